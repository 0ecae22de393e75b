//! What a pack says of itself in its `pack.toml`, and the order of packs that build on each other.

use super::digest::digest_of;
use super::text::PackText;
use crate::diagnostic::{Diagnostic, nearest};
use crate::ir::Pack;
use crate::quantity::Unit;
use crate::source::SharedText;
use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Manifest {
    name: String,
    title: String,
    edition: String,
    authority: String,
    scope: String,
    #[serde(default)]
    uses: Vec<String>,
    #[serde(default)]
    not_covered: Vec<String>,
    #[serde(default)]
    asked_back: BTreeMap<String, Vec<String>>,
    #[serde(default)]
    country_means: BTreeMap<String, String>,
}

/// Reads the manifest of a pack.
///
/// # Errors
/// A message if it is not one.
pub(super) fn read_manifest(text: &PackText) -> Result<Pack, Diagnostic> {
    let bad = |error: toml::de::Error| {
        let line = error
            .span()
            .map_or(1, |span| text.manifest.get(..span.start).unwrap_or("").matches('\n').count().saturating_add(1));
        Diagnostic::error(
            "pack::manifest",
            format!("`{}/pack.toml`, line {line}: {}", text.name, error.message().replace('\n', ", ")),
        )
        .help("a pack.toml has name, title, edition, authority, scope, uses, not_covered, asked_back and country_means")
    };
    let read: Manifest = toml::from_str(&text.manifest).map_err(bad)?;
    let Manifest { name, title, edition, authority, scope, uses, not_covered, asked_back, country_means } = read;
    if !name.chars().all(|letter| letter.is_alphanumeric() || matches!(letter, '-' | '_' | '.')) || name.is_empty() {
        let message = format!("`{}/pack.toml`: `{name}` is no name of a pack", text.name);
        let help =
            "write letters, digits and hyphens, such as name = \"my-kit\": items are called by it, my-kit/wing.bolts";
        return Err(Diagnostic::error("pack::name", message).help(help));
    }
    for (symbol, meanings) in &asked_back {
        if !are_meanings(symbol, meanings) {
            let message = format!("`{}/pack.toml`: `{symbol}` is not asked back with two units of one kind", text.name);
            let help = "write a unit and what it may mean: asked_back = { gal = [\"usgal\", \"impgal\"] }";
            return Err(Diagnostic::error("pack::asked-back", message).help(help));
        }
    }
    let texts = |texts: Vec<String>| texts.into_iter().map(SharedText::from).collect();
    Ok(Pack {
        name: name.into(),
        title: title.into(),
        edition: edition.into(),
        authority: authority.into(),
        scope: scope.into(),
        not_covered: texts(not_covered),
        uses: texts(uses),
        asked_back: asked_back.into_iter().map(|(symbol, meanings)| (symbol.into(), texts(meanings))).collect(),
        country_means: country_means.into_iter().map(|(fact, word)| (fact.into(), word.into())).collect(),
        digest: digest_of(text).into(),
    })
}

/// Whether a unit may mean each of these: several of its kind and of different sizes, and none of them the unit itself.
fn are_meanings(symbol: &str, meanings: &[String]) -> bool {
    let Ok(unit) = Unit::parse(symbol) else { return false };
    let known: Vec<Unit> = meanings.iter().filter_map(|meaning| Unit::parse(meaning).ok()).collect();
    let apart =
        |(at, one): (usize, &Unit)| known.iter().skip(at.saturating_add(1)).all(|two| one.factor() != two.factor());
    known.len() == meanings.len()
        && known.len() > 1
        && known.iter().all(|known| known.dimension() == unit.dimension() && known.symbol() != symbol)
        && known.iter().enumerate().all(apart)
}

/// Puts packs in an order in which each follows those it builds on.
///
/// # Errors
/// A pack that is missing, a cycle, two packs of one name.
pub(super) fn in_order(packs: Vec<(Pack, &PackText)>) -> Result<Vec<(Pack, &PackText)>, Vec<Diagnostic>> {
    let mut messages = Vec::new();
    for (at, (pack, text)) in packs.iter().enumerate() {
        if let Some((_, other)) = packs.iter().take(at).find(|(other, _)| other.name == pack.name) {
            messages.push(
                Diagnostic::error(
                    "pack::twice",
                    format!("two packs are named `{}`: `{}` and `{}`", pack.name, other.name, text.name),
                )
                .help("rename one of them in its pack.toml"),
            );
        }
        for used in &pack.uses {
            if !packs.iter().any(|(other, _)| other.name == *used) {
                let near = nearest(used, packs.iter().map(|(p, _)| p.name.as_str()));
                messages.push(no_such_pack(used, &format!("pack `{}` builds on it", pack.name), near));
            }
        }
    }
    if !messages.is_empty() {
        return Err(messages);
    }
    let (mut waiting, mut done): (Vec<_>, Vec<(Pack, &PackText)>) = (packs, Vec::new());
    while !waiting.is_empty() {
        let ready =
            waiting.iter().position(|(pack, _)| pack.uses.iter().all(|used| done.iter().any(|(p, _)| p.name == *used)));
        let Some(ready) = ready else {
            let names: Vec<_> = waiting.iter().map(|(pack, _)| format!("`{}`", pack.name)).collect();
            return Err(vec![
                Diagnostic::error(
                    "pack::cycle",
                    format!("these packs build on each other in a circle: {}", names.join(", ")),
                )
                .help("take one name out of `uses` in one pack.toml"),
            ]);
        };
        done.push(waiting.remove(ready));
    }
    Ok(done)
}

/// The message that there is no pack of a name, with the nearest one that there is.
#[must_use]
pub fn no_such_pack(name: &str, why: &str, near: Option<&str>) -> Diagnostic {
    let help = near.map_or_else(
        || "a built-in pack by name, or a folder as `./my-pack`".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Diagnostic::error("pack::missing", format!("there is no pack `{name}`; {why}")).help(help)
}
