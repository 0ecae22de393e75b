//! What the sources do not do at all, whatever a pack or a project asks for.

use super::imports::sources;

/// What would start a program, open a connection, load code or go past the compiler's checks.
const NEVER: [&str; 9] = [
    "process::Command",
    "std::net",
    "TcpStream",
    "TcpListener",
    "UdpSocket",
    "UnixStream",
    "libloading",
    "unsafe {",
    "unsafe fn",
];

/// The clock and the surroundings of the process, which the command alone may look at.
const COMMAND_ONLY: [&str; 5] = ["SystemTime::now", "Instant::now", "Zoned::now", "env::var", "env::args"];

#[test]
fn nothing_is_run_and_no_connection_is_made() {
    let mut seen = 0;
    for folder in ["src", "src/engine", "src/lang"] {
        for source in sources(folder) {
            seen += 1;
            for word in NEVER {
                assert!(!source.text.contains(word), "{} has {word}", source.path);
            }
            for word in COMMAND_ONLY {
                let may = source.path.starts_with("src/command/");
                assert!(may || !source.text.contains(word), "{} has {word}", source.path);
            }
        }
    }
    assert!(seen > 200, "{seen} files read");
}
