//! What differs between two texts, line by line.

use std::fmt::Write;

/// Lines shown of a difference.
const MOST: usize = 40;
/// Letters shown of a line.
const WIDE: usize = 240;

/// A line with its number and what happened to it.
type Change<'a> = (char, usize, &'a str);

/// The lines that are only in one of the two, each with its number there.
pub(super) fn lines(kept: &str, now: &str) -> String {
    let (old, new): (Vec<&str>, Vec<&str>) = (kept.split('\n').collect(), now.split('\n').collect());
    let head = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let tail = old[head..].iter().rev().zip(new[head..].iter().rev()).take_while(|(a, b)| a == b).count();
    let changes = changes(&old[head..old.len() - tail], &new[head..new.len() - tail], head + 1);
    let mut text = String::new();
    for (n, (sign, line, words)) in changes.iter().take(MOST).enumerate() {
        let other = changes.get(n + 1).filter(|next| next.0 != *sign).or_else(|| n.checked_sub(1).map(|n| &changes[n]));
        writeln!(text, "{sign}{line:5} {}", clipped(words, other.map_or("", |other| other.2))).unwrap();
    }
    if changes.len() > MOST {
        writeln!(text, "… and {} lines more", changes.len() - MOST).unwrap();
    }
    text
}

/// Removed and added lines, those that belong together beside each other.
fn changes<'a>(old: &[&'a str], new: &[&'a str], first: usize) -> Vec<Change<'a>> {
    // Where the table would be large, one block stands for the other.
    if old.len().saturating_mul(new.len()) > 4_000_000 {
        let gone = old.iter().enumerate().map(|(n, line)| ('-', first + n, *line));
        return gone.chain(new.iter().enumerate().map(|(n, line)| ('+', first + n, *line))).collect();
    }
    let wide = new.len() + 1;
    // The longest row of lines that the rest of both have in common.
    let mut common = vec![0_u32; (old.len() + 1) * wide];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            common[i * wide + j] = if old[i] == new[j] {
                common[(i + 1) * wide + j + 1] + 1
            } else {
                common[(i + 1) * wide + j].max(common[i * wide + j + 1])
            };
        }
    }
    let (mut i, mut j, mut found) = (0, 0, Vec::new());
    while i < old.len() || j < new.len() {
        if i < old.len() && j < new.len() && old[i] == new[j] {
            (i, j) = (i + 1, j + 1);
        } else if j == new.len() || (i < old.len() && common[(i + 1) * wide + j] >= common[i * wide + j + 1]) {
            found.push(('-', first + i, old[i]));
            i += 1;
        } else {
            found.push(('+', first + j, new[j]));
            j += 1;
        }
    }
    found
}

/// A long line from shortly before the first letter in which it differs from the other.
fn clipped(line: &str, other: &str) -> String {
    if line.chars().count() <= WIDE {
        return line.to_owned();
    }
    let same = line.chars().zip(other.chars()).take_while(|(a, b)| a == b).count();
    let from = same.saturating_sub(WIDE / 3);
    let part: String = line.chars().skip(from).take(WIDE).collect();
    format!("{}{part}…", if from > 0 { "…" } else { "" })
}

#[test]
fn only_what_differs_is_shown() {
    assert_eq!(lines("a\nb\nc\nd\n", "a\nx\nc\ne\nd\n"), "-    2 b\n+    2 x\n+    4 e\n");
    assert_eq!(lines("a\n", "a"), "-    2 \n");
    let long = "x".repeat(1000);
    let shown = lines(&format!("{long}1\n"), &format!("{long}2\n"));
    assert!(shown.contains("x1…\n") && shown.contains("x2…\n") && shown.len() < 700, "{shown}");
}
