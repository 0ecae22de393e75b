//! Tables: kinds of keys and cells, order, gaps and overlaps.

use super::checker::Checker;
use crate::diagnostic::{Diagnostic, with_article};
use crate::ir::{Cell, ChoiceSet, Kind, PackId, Table, TableKey, TableRow};
use crate::quantity::{Dimension, Exact, ExactInterval, Truth};
use crate::syntax::ast::{self, KeyMode, Literal, LiteralKind, TableDecl};
use std::collections::BTreeSet;

impl Checker {
    pub(crate) fn table(&mut self, decl: &TableDecl, pack: PackId) {
        if !self.declare("table", &decl.name, pack) {
            return;
        }
        if decl.cites.is_empty() {
            self.error(
                Diagnostic::error("item::no-source", format!("the table `{}` has no source", decl.name.text))
                    .at(decl.name.span, "this table")
                    .help("add `cite SOURCE, \"paragraph\"` or `cite common practice`"),
            );
        }
        let _ = self.cites(&decl.cites, pack);
        let kinds: Vec<_> = decl.keys.iter().map(|(_, kind, _)| self.kind(kind)).collect();
        let columns: Vec<_> = decl.columns.iter().map(|(_, kind)| self.kind(kind)).collect();
        let (Some(kinds), Some(columns)) =
            (kinds.into_iter().collect::<Option<Vec<_>>>(), columns.into_iter().collect::<Option<Vec<_>>>())
        else {
            return;
        };
        let Some(modes) = self.modes(decl, &kinds) else { return };
        let Some(dimensions) = self.column_dimensions(decl, &columns) else { return };
        let rows: Vec<TableRow> = decl.rows.iter().filter_map(|row| self.row(row, &kinds, &dimensions)).collect();
        if rows.len() == decl.rows.len() {
            self.order_and_gaps(decl, &modes, &rows);
        }
        let table = Table {
            name: decl.name.text.to_string(),
            keys: modes,
            columns: decl.columns.iter().map(|(name, _)| name.text.to_string()).collect(),
            rows,
        };
        let id = self.rules.program.tables.push(table);
        self.tables.insert(decl.name.text.clone(), (id, kinds, dimensions));
    }

    fn modes(&mut self, decl: &TableDecl, kinds: &[Kind]) -> Option<Vec<TableKey>> {
        let mut modes = Vec::new();
        for (at, ((name, _, mode), kind)) in decl.keys.iter().zip(kinds).enumerate() {
            let numeric = matches!(kind, Kind::Number(_));
            let last = at.saturating_add(1) == decl.keys.len();
            let wrong = match (mode, numeric) {
                (KeyMode::Exact, true) => Some("a quantity as key says `linear`, `step down` or `step up`"),
                (KeyMode::Linear | KeyMode::StepDown | KeyMode::StepUp, false) => {
                    Some("only a quantity can be looked up between rows")
                }
                (KeyMode::Linear | KeyMode::StepDown | KeyMode::StepUp, true) if !last => {
                    Some("only the last key can be looked up between rows")
                }
                _ => None,
            };
            if let Some(wrong) = wrong {
                self.error(
                    Diagnostic::error("table::keys", wrong)
                        .at(name.span, "this key")
                        .help("see the section on tables in grammar/README.md"),
                );
                return None;
            }
            modes.push(match mode {
                KeyMode::Exact => TableKey::Exact,
                KeyMode::Linear => TableKey::Linear,
                KeyMode::StepDown => TableKey::StepDown,
                KeyMode::StepUp => TableKey::StepUp,
            });
        }
        Some(modes)
    }

    fn column_dimensions(&mut self, decl: &TableDecl, columns: &[Kind]) -> Option<Vec<Option<Dimension>>> {
        let mut dimensions = Vec::new();
        for ((name, _), kind) in decl.columns.iter().zip(columns) {
            dimensions.push(match kind {
                Kind::Number(dimension) => Some(*dimension),
                Kind::Count => Some(Dimension::NUMBER),
                Kind::Date => None,
                Kind::YesNo | Kind::Choice(_) | Kind::Text | Kind::Named(_) => {
                    self.error(
                        Diagnostic::error("table::column", "a table gives numbers, quantities or dates")
                            .at(name.span, "this column")
                            .help("make words a key, and give a number"),
                    );
                    return None;
                }
            });
        }
        Some(dimensions)
    }

    fn row(&mut self, row: &ast::TableRow, kinds: &[Kind], dimensions: &[Option<Dimension>]) -> Option<TableRow> {
        if row.keys.len() != kinds.len() || row.cells.len() != dimensions.len() {
            self.error(
                Diagnostic::error(
                    "table::row",
                    format!(
                        "this row has {} keys and {} values; the table has {} and {}",
                        row.keys.len(),
                        row.cells.len(),
                        kinds.len(),
                        dimensions.len()
                    ),
                )
                .at(row.span, "this row")
                .help("write `none` for a value the document does not print"),
            );
            return None;
        }
        let keys: Vec<_> = row.keys.iter().zip(kinds).map(|(key, kind)| self.key_cell(key, *kind)).collect();
        let cells: Vec<_> =
            row.cells.iter().zip(dimensions).map(|(cell, dimension)| self.value_cell(cell, *dimension)).collect();
        Some(TableRow {
            keys: keys.into_iter().collect::<Option<_>>()?,
            cells: cells.into_iter().collect::<Option<_>>()?,
        })
    }

    fn key_cell(&mut self, literal: &Literal, kind: Kind) -> Option<Cell> {
        match (kind, &literal.kind) {
            (Kind::Text, LiteralKind::Text(text)) => Some(Cell::Text(text.to_string())),
            (Kind::YesNo | Kind::Choice(_), LiteralKind::Word(word)) => {
                let words: Vec<String> = self.rules.words(kind).iter().map(|w| (*w).to_owned()).collect();
                let bit = words.iter().position(|known| known == word);
                if bit.is_none() {
                    self.unknown(
                        "word",
                        &ast::Name { text: word.clone(), span: literal.span },
                        words.iter().map(String::as_str),
                    );
                }
                bit.map(|bit| Cell::Words(ChoiceSet::word(bit)))
            }
            (Kind::Number(_) | Kind::Count | Kind::Date, _) => {
                let dimension = match kind {
                    Kind::Number(d) => Some(d),
                    Kind::Count => Some(Dimension::NUMBER),
                    _ => None,
                };
                let value = self.value_cell(literal, dimension)?;
                if value.is_none() {
                    self.error(
                        Diagnostic::error("table::row", "a key cannot be `none`")
                            .at(literal.span, "this key")
                            .help("write the key the document prints"),
                    );
                }
                value.map(Cell::Number)
            }
            _ => {
                self.error(
                    Diagnostic::error("type::mismatch", "this key is not of the kind the table declares")
                        .at(literal.span, "this key")
                        .help("compare with the keys in the table's first line"),
                );
                None
            }
        }
    }

    fn value_cell(&mut self, literal: &Literal, dimension: Option<Dimension>) -> Option<Option<ExactInterval>> {
        match (&literal.kind, dimension) {
            (LiteralKind::None, _) => Some(None),
            (LiteralKind::Measured(quantity), Some(dimension)) if quantity.dimension() == dimension => {
                Some(Some(quantity.range.clone()))
            }
            (LiteralKind::Date(date), None) => {
                let day = |d: crate::quantity::Date| Some(Exact::from_int(i64::from(d.days())));
                Some(Some(ExactInterval::new(day(date.first), day(date.last))))
            }
            (LiteralKind::Measured(quantity), Some(dimension)) => {
                self.error(
                    Diagnostic::error(
                        "unit::mismatch",
                        format!(
                            "this is {}; the column is {}",
                            with_article(&quantity.dimension().describe()),
                            with_article(&dimension.describe())
                        ),
                    )
                    .at(literal.span, "this value")
                    .help("write the value in a unit of the column's kind"),
                );
                None
            }
            _ => {
                self.error(
                    Diagnostic::error("type::mismatch", "this value is not of the kind the table declares")
                        .at(literal.span, "this value")
                        .help("write a number with its unit, or `none`"),
                );
                None
            }
        }
    }

    fn order_and_gaps(&mut self, decl: &TableDecl, modes: &[TableKey], rows: &[TableRow]) {
        if let Some((first, this)) = same_keys(rows)
            && let (Some(first), Some(this)) = (decl.rows.get(first), decl.rows.get(this))
        {
            self.error(
                Diagnostic::error(
                    "table::overlap",
                    format!("the table `{}` has two rows for the same keys", decl.name.text),
                )
                .at(this.span, "again here")
                .at(first.span, "first here")
                .help("take one of the two out"),
            );
            return;
        }
        let stepped = modes.last().is_some_and(|mode| *mode != TableKey::Exact);
        let exact = if stepped { modes.len().saturating_sub(1) } else { modes.len() };
        if stepped {
            for (pair, decls) in rows.windows(2).zip(decl.rows.windows(2)) {
                let ([a, b], [_, second]) = (pair, decls) else { continue };
                if a.keys.get(..exact) == b.keys.get(..exact) && !ascends(a, b) {
                    self.error(
                        Diagnostic::error("table::overlap", format!("the rows of `{}` do not ascend", decl.name.text))
                            .at(second.span, "this row is not above the one before")
                            .help("put the rows in ascending order of the last key"),
                    );
                    return;
                }
            }
        }
        if exact > 1 {
            self.gaps(decl, rows, exact);
        }
    }

    /// Every combination of the exact keys that occur must have a row.
    fn gaps(&mut self, decl: &TableDecl, rows: &[TableRow], exact: usize) {
        let texts: Vec<Vec<String>> = decl
            .rows
            .iter()
            .map(|row| row.keys.iter().take(exact).map(|key| self.rules.sources.text(key.span).to_owned()).collect())
            .collect();
        if rows.len() != texts.len() {
            return;
        }
        let have: BTreeSet<Vec<&str>> = texts.iter().map(|row| row.iter().map(String::as_str).collect()).collect();
        let values: Vec<Vec<&str>> = (0..exact)
            .map(|at| texts.iter().filter_map(|row| row.get(at)).map(String::as_str).collect::<BTreeSet<_>>())
            .map(|values| values.into_iter().collect())
            .collect();
        if let Some(gap) = first_gap(&values, &have) {
            self.error(
                Diagnostic::error(
                    "table::gap",
                    format!("the table `{}` has no row for {}", decl.name.text, gap.join(", ")),
                )
                .at(decl.name.span, "this table")
                .help("add the row; write `none` where the document prints no value"),
            );
        }
    }
}

/// The first row whose keys stood before, and where they did.
fn same_keys(rows: &[TableRow]) -> Option<(usize, usize)> {
    let mut places: Vec<_> = (0..rows.len()).collect();
    let keys = |at: &usize| rows.get(*at).map(|row| row.keys.as_slice()).unwrap_or_default();
    places.sort_by(|a, b| Cell::in_a_row(keys(a), keys(b)).then(a.cmp(b)));
    let groups = places.chunk_by(|a, b| keys(a) == keys(b));
    groups.filter_map(|group| Some((*group.first()?, *group.get(1)?))).min_by_key(|(_, again)| *again)
}

/// The first combination of the values that is not there. As many are tried as there are, and one more.
fn first_gap<'t>(values: &[Vec<&'t str>], have: &BTreeSet<Vec<&'t str>>) -> Option<Vec<&'t str>> {
    let mut at = vec![0usize; values.len()];
    loop {
        let combination: Vec<&str> = values.iter().zip(&at).filter_map(|(all, at)| all.get(*at).copied()).collect();
        if !have.contains(&combination) {
            return Some(combination);
        }
        // The next one: the last place turns first.
        let turning = at.iter_mut().zip(values).rev();
        let mut turned = false;
        for (place, all) in turning {
            *place = place.saturating_add(1);
            turned = *place < all.len();
            if turned {
                break;
            }
            *place = 0;
        }
        if !turned {
            return None;
        }
    }
}

fn ascends(a: &TableRow, b: &TableRow) -> bool {
    match (a.keys.last(), b.keys.last()) {
        (Some(Cell::Number(a)), Some(Cell::Number(b))) => a.less(b) == Truth::True,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::{first_gap, same_keys};
    use crate::ir::{Cell, TableRow};
    use std::collections::BTreeSet;

    fn row(a: &str, b: &str) -> TableRow {
        TableRow { keys: vec![Cell::Text(a.to_owned()), Cell::Text(b.to_owned())], cells: Vec::new() }
    }

    /// As many rows as there are values of each key would want their square of combinations.
    #[test]
    fn a_gap_is_found_without_all_combinations() {
        let names: Vec<String> = (0..100_000).map(|at| format!("{at:06}")).collect();
        let all: Vec<&str> = names.iter().map(String::as_str).collect();
        let have: BTreeSet<Vec<&str>> = all.iter().map(|name| vec![*name, *name]).collect();
        assert_eq!(first_gap(&[all.clone(), all], &have), Some(vec!["000000", "000001"]));
        let two = BTreeSet::from([vec!["a", "x"], vec!["a", "y"], vec!["b", "x"], vec!["b", "y"]]);
        assert_eq!(first_gap(&[vec!["a", "b"], vec!["x", "y"]], &two), None);
        assert_eq!(first_gap(&[vec!["a", "b"], vec!["x", "y", "z"]], &two), Some(vec!["a", "z"]));
    }

    #[test]
    fn the_first_row_that_comes_again_is_found() {
        let rows = [row("a", "x"), row("b", "x"), row("c", "c"), row("b", "x"), row("a", "x"), row("b", "x")];
        assert_eq!(same_keys(&rows), Some((1, 3)));
        assert_eq!(same_keys(&rows[..3]), None);
    }
}
