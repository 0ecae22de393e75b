//! What an embedder builds, as cargo says it: how many crates, and which not.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// The most crates that the library alone may need, those of this project counted,
const MOST: usize = 32;

/// and those beyond, each of which does what nobody should write by hand once more: exact fractions of any size, and
/// how far apart two words are.
const BEYOND: [&str; 2] = ["num-rational", "strsim"];

/// What cargo says, from what has been fetched for these tests.
fn cargo(arguments: &[&str]) -> String {
    let command = Command::new(env!("CARGO")).args(arguments).args(["--locked", "--offline"]).output().unwrap();
    assert!(command.status.success(), "{}", String::from_utf8_lossy(&command.stderr));
    String::from_utf8(command.stdout).unwrap()
}

/// The crates that `cotterpin` is built with, each with the features it has; what builds them is among them.
fn built_with(features: &str) -> BTreeMap<String, BTreeSet<String>> {
    let arguments = ["tree", "-p", "cotterpin", "--no-default-features", "--features", features];
    let tree = cargo(&[&arguments[..], &["-e", "normal,build", "--prefix", "none", "-f", "{p}|{f}"]].concat());
    let mut crates = BTreeMap::<String, BTreeSet<String>>::new();
    for line in tree.lines() {
        let (package, features) = line.split_once('|').unwrap();
        // Name and version: two versions of a crate are two crates.
        let package = package.split(' ').take(2).collect::<Vec<_>>().join(" ");
        let features = features.trim_end_matches(" (*)").split(',').map(str::to_owned);
        crates.entry(package).or_default().extend(features);
    }
    crates
}

fn name(package: &str) -> &str {
    package.split(' ').next().unwrap()
}

#[test]
fn the_library_alone_is_light() {
    let crates = built_with("");
    let list = crates.keys().cloned().collect::<Vec<_>>().join("\n");
    assert!(BEYOND.iter().all(|named| crates.keys().any(|package| name(package) == *named)), "{list}");
    assert!(crates.len() <= MOST + BEYOND.len(), "{} crates, and {MOST} are the most:\n{list}", crates.len());
    // So that a tree that was read wrongly does not pass.
    assert!(["cotterpin", "cotterpin-lang", "pest", "toml"].iter().all(|own| crates.keys().any(|c| name(c) == *own)));
    assert!(!crates.keys().any(|package| name(package) == "cotterpin-packs"), "{list}");
}

#[test]
fn no_embedder_needs_a_c_compiler_or_carries_the_command() {
    for features in ["", "packs", "disk", "packs,disk"] {
        for (package, with) in built_with(features) {
            let name = name(&package);
            assert!(name != "cc" && name != "cmake" && !name.ends_with("-sys"), "{features}: {package} asks for C");
            assert!(!["clap", "miette"].contains(&name), "{features}: {package} is the command's");
            assert!(name != "chrono" || !with.contains("clock") && !with.contains("now"), "{features}: it has a clock");
        }
    }
    assert!(built_with("command").keys().any(|package| name(package) == "clap"));
}

/// `rust-version` can only be true if it is true of all that is built in.
#[test]
fn no_crate_asks_for_a_newer_compiler_than_is_said() {
    let version = |text: &str| text.split('.').map(|part| part.parse::<u32>().unwrap()).collect::<Vec<_>>();
    let built = built_with("command");
    let compiler = Command::new("rustc").arg("-vV").output().unwrap().stdout;
    let compiler = String::from_utf8(compiler).unwrap();
    let host = compiler.lines().find_map(|line| line.strip_prefix("host: ")).unwrap();
    let metadata = cargo(&["metadata", "--format-version", "1", "--filter-platform", host]);
    let metadata: serde_json::Value = serde_json::from_str(&metadata).unwrap();
    let ours = version(env!("CARGO_PKG_RUST_VERSION"));
    let mut asked = 0;
    for package in metadata["packages"].as_array().unwrap() {
        let known = format!("{} v{}", package["name"].as_str().unwrap(), package["version"].as_str().unwrap());
        let Some(asks) = package["rust_version"].as_str().filter(|_| built.contains_key(&known)) else { continue };
        asked += 1;
        assert!(version(asks) <= ours, "{known} asks for {asks}");
    }
    assert!(asked > 20, "{asked}");
}
