//! A path as it is shown: with `/` between folders on every system.

use std::path::Path;

/// A path as it is shown: without what Windows puts before one that it has followed to its end, and with `/` between
/// folders, which Windows takes too.
#[must_use]
pub fn shown(path: &Path) -> String {
    let path = path.display().to_string();
    if cfg!(windows) { of_windows(&path) } else { path }
}

fn of_windows(path: &str) -> String {
    let path = match (path.strip_prefix(r"\\?\UNC\"), path.strip_prefix(r"\\?\")) {
        (Some(share), _) => format!(r"\\{share}"),
        (None, Some(rest)) => rest.to_owned(),
        (None, None) => path.to_owned(),
    };
    path.replace('\\', "/")
}

#[cfg(test)]
mod tests {
    use super::of_windows;

    #[test]
    fn a_path_is_shown_as_people_write_it() {
        for (path, shown) in [
            (r"\\?\C:\My Shed\shed-7\fuel.toml", "C:/My Shed/shed-7/fuel.toml"),
            (r"\\?\UNC\server\share\shed-7", "//server/share/shed-7"),
            (r"C:\My Shed", "C:/My Shed"),
            (r"audits\2026-11-28.json", "audits/2026-11-28.json"),
            ("/home/rosa/shed-7", "/home/rosa/shed-7"),
            ("shed-7", "shed-7"),
        ] {
            assert_eq!(of_windows(path), shown);
        }
    }
}
