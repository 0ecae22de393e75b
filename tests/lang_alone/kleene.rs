//! Truth against the published tables.

use cotterpin_lang::quantity::Truth::{self, False as F, True as T, Undecided as U};

/// S. C. Kleene, Introduction to Metamathematics (1952), section 64, the strong
/// tables (typed from memory of the book; they are also those of the Stanford
/// Encyclopedia of Philosophy's entry on many-valued logic).
/// Rows and columns stand in the order false, undecided, true.
const AND: [[Truth; 3]; 3] = [[F, F, F], [F, U, U], [F, U, T]];
const OR: [[Truth; 3]; 3] = [[F, U, T], [U, U, T], [T, T, T]];
const NOT: [Truth; 3] = [T, U, F];
const ORDER: [Truth; 3] = [F, U, T];

#[test]
fn connectives_are_kleenes_strong_tables() {
    let mut cells = 0;
    for (i, a) in ORDER.into_iter().enumerate() {
        assert_eq!(!a, NOT[i], "not {a}");
        cells += 1;
        for (j, b) in ORDER.into_iter().enumerate() {
            assert_eq!(a.and(b), AND[i][j], "{a} and {b}");
            assert_eq!(a.or(b), OR[i][j], "{a} or {b}");
            assert_eq!(!a.and(b), (!a).or(!b), "De Morgan on {a}, {b}");
            cells += 2;
        }
    }
    assert_eq!(cells, 21);
    println!("compared {cells} cells with Kleene's strong tables");
}

#[test]
fn all_and_any_are_repeated_and_and_or() {
    let mut compared = 0;
    for a in ORDER {
        for b in ORDER {
            for c in ORDER {
                assert_eq!(Truth::all([a, b, c]), a.and(b).and(c));
                assert_eq!(Truth::any([a, b, c]), a.or(b).or(c));
                compared += 2;
            }
        }
    }
    assert_eq!(Truth::all([]), T);
    assert_eq!(Truth::any([]), F);
    assert_eq!(Truth::from(true), T);
    assert_eq!(Truth::from(false), F);
    assert!(F < U && U < T);
    println!("compared {compared} triples");
}
