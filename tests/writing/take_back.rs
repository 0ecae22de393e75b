//! Taking the last line back.

use super::Shed;

#[test]
fn the_last_line_comes_back_out_and_is_kept() {
    let shed = Shed::new("take-back");
    shed.step(&["log", "tested", "spar.main", "--on", "2026-09-02"]).fine(&[]);
    let before = shed.text("log/2026-09.toml");
    shed.step(&["log", "removed", "spar.web", "wrong one, \"sorry\"", "--on", "2026-09-03"]).fine(&[]);
    let entry = shed.text("log/2026-09.toml").split_off(before.len());
    let said = shed.step(&["log", "--take-back"]).fine(&["Taken back from log/2026-09.toml", "wrong one"]);
    assert!(said.out.contains("subject = \"spar.web\""));
    assert_eq!(shed.text("log/2026-09.toml"), before);
    assert!(shed.text("log/taken-back.txt").contains(entry.trim()));
    // Once only; the line before is another day's work.
    shed.refuses(&["log", "--take-back"], &["log::take-back"]);
    shed.step(&["log", "removed", "spar.main", "--on", "2026-09-04"]).fine(&[]);
    shed.step(&["log", "--take-back"]).fine(&[]);
    assert_eq!(shed.text("log/taken-back.txt").matches("# Taken back on ").count(), 2);
    assert_eq!(shed.step(&["audit", "--on", "2026-11-25"]).status, 2, "what was taken back is read by no audit");
}

#[test]
pub(super) fn a_file_changed_since_stays_as_it_is() {
    let shed = Shed::new("take-back-changed");
    shed.step(&["log", "tested", "spar.main", "--on", "2026-09-02"]).fine(&[]);
    let text = shed.text("log/2026-09.toml");
    for changed in [format!("{text}# mine\n"), text.replace("tested", "inspected"), String::new()] {
        let shed = shed.clone().file("log/2026-09.toml", changed);
        shed.refuses(&["log", "--take-back"], &["log::changed", "stays as it is"]);
    }
    let shed = shed.file(".cotterpin/last", "../out.toml\n[[log]]\n");
    shed.refuses(&["log", "--take-back"], &["log::take-back"]);
    let shed = shed.file(".cotterpin/last", "log/../project.toml\n[[log]]\n");
    shed.refuses(&["log", "--take-back"], &["log::take-back"]);
}
