//! What shells and `man` are told.

use crate::fixtures::folder::Run;

/// What a shell is offered for the last of the words, one to a line, by the way bash asks.
fn offered(run: &Run, words: &[&str]) -> Vec<String> {
    let line = [&["--", "cotterpin"], words].concat();
    let output = run
        .command(&line)
        .env("COTTERPIN_COMPLETE", "bash")
        .env("_CLAP_IFS", "\n")
        .env("_CLAP_COMPLETE_INDEX", words.len().to_string())
        .env("_CLAP_COMPLETE_COMP_TYPE", "9")
        .output()
        .expect("it runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text").lines().map(|line| line.trim().to_owned()).collect()
}

#[test]
fn commands_and_the_names_of_the_project_are_completed() {
    let demo = cotterpin::command::demo();
    let run = demo.into_iter().fold(Run::new("shells"), |run, (path, bytes)| run.file(path, bytes));
    let inside = run.inside("evidence");
    for (words, expected) in [
        (&["rec"][..], &["record"][..]),
        (&["log", "snag"], &["snag found", "snag cleared"]),
        (&["log", "inspected", "controls.elev"], &["controls.elevator", "controls.elevator.pushrod"]),
        (&["log", "opened", "ta"], &["tail"]),
        (&["log", "inspected", "controls.elevator", "--who", "sascha"], &["sascha"]),
        (&["log", "inspected", "controls.elevator", "--role", "licensed"], &["licensed-engineer"]),
        (&["confirm", "plate.leg"], &["plate.legible"]),
        (&["confirm", "fasteners.j"], &["fasteners.joints"]),
        (&["record", "fuel.flow_test.r"], &["fuel.flow_test.rate"]),
        (&["record", "fasteners.joints.pin"], &["fasteners.joints.pinned"]),
        (&["why", "plate.leg"], &["plate.legible"]),
        (&["audit", "--by", "close:ta"], &["close:tail"]),
        (&["ask", "--about", "fas"], &["fasteners"]),
    ] {
        for run in [&run, &inside] {
            let offered = offered(run, words);
            assert!(expected.iter().all(|name| offered.iter().any(|one| one == name)), "{words:?}: {offered:?}");
            let typed = words.last().expect("a word");
            assert!(offered.iter().all(|one| one.starts_with(typed)), "{words:?}: {offered:?}");
        }
    }
    // Where there is no project nothing is offered, and nothing goes wrong.
    let nowhere = Run::new("shells-nowhere");
    assert!(offered(&nowhere, &["log", "inspected", "controls.elev"]).iter().all(String::is_empty));
    assert_eq!(offered(&nowhere, &["rec"]), ["record"]);
}

#[test]
fn each_shell_and_the_manual_have_their_text() {
    let run = Run::new("shells-told");
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let ran = run.step(&["completion", shell]);
        assert_eq!((ran.status, ran.err.as_str()), (0, ""));
        assert!(ran.out.contains("COTTERPIN_COMPLETE") && ran.out.contains("cotterpin"), "{shell}: {}", ran.out);
    }
    let page = run.step(&["manual"]).out;
    assert!(page.contains(".TH cotterpin 1"), "{page}");
    for command in ["begin", "log", "record", "confirm", "ask", "audit", "next", "why", "since"] {
        assert!(page.contains(&format!("cotterpin\\-{command}(1)")), "{command}");
        let own = run.step(&["manual", command]).out;
        assert!(own.contains(&format!(".TH cotterpin-{command} 1")) && own.contains(".SH OPTIONS"), "{own}");
    }
    let ran = run.step(&["manual", "adit"]);
    assert!(ran.status == 3 && ran.err.contains("did you mean `audit`?"), "{}", ran.err);
}
