//! Roles: which are named, what their people may do, and who is heard in them.

use super::checker::Checker;
use crate::diagnostic::Diagnostic;
use crate::ir::{BUILDER, Concedes, RoleId, RoleSet};
use crate::syntax::ast::{Name, WordDecl};

impl Checker {
    /// Over what a role may give leave. Somebody who never signs gives none.
    pub(super) fn concedes(&mut self, word: &WordDecl) -> Concedes {
        if let (Some(never), Some(first)) = (word.never_signs, word.may_concede.first()) {
            let message = "a role that never signs cannot give leave";
            let message = Diagnostic::error("role::concedes", message).at(first.span, "leave is signed");
            self.error(message.at(never, "never signs").help("take one of the two out"));
        }
        let over = |kind: &str| word.may_concede.iter().any(|name| name.text == *kind);
        if let Some(name) = word.may_concede.iter().find(|name| word.name.text == BUILDER && name.text == "law") {
            let message = "a builder never concedes what is law";
            self.error(Diagnostic::error("role::concedes", message).at(name.span, "law").help("take `law` out"));
        }
        Concedes { law: over("law"), advice: over("advice"), other: over("other") }
    }

    /// Whether nobody who builds the aircraft is heard in a role. Of other roles it is said where somebody is asked.
    pub(super) fn is_other_than_builder(&mut self, word: &WordDecl) -> bool {
        if let Some(name) = word.other_than.iter().find(|name| name.text != BUILDER) {
            let message = "a role can be kept from builders only";
            let message = Diagnostic::error("role::other-than", message).at(name.span, "not the builder");
            self.error(message.help("write `other than builder`; of other roles say it where somebody is asked"));
        }
        !word.other_than.is_empty()
    }

    /// A role of this pack, or of one that it builds on.
    pub(super) fn known_role(&mut self, role: &Name) -> Option<RoleId> {
        let found = self.rules.roles.position(|known| known.name == role.text);
        let found = found.filter(|_| self.in_sight("role", role));
        if found.is_none() {
            let known: Vec<_> = self.rules.roles.iter().map(|known| known.name.clone()).collect();
            self.unknown("role", role, known.iter().map(AsRef::as_ref));
        }
        found
    }

    /// The roles of these names.
    pub(super) fn role_bits(&mut self, roles: &[Name]) -> RoleSet {
        let mut set = RoleSet::ANY;
        for role in roles {
            self.known_role(role).into_iter().for_each(|at| set.add(at));
        }
        set
    }
}
