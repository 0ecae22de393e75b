//! One binary of all targets: `COTTERPIN_TARGET` says which one runs.

#![no_main]

#[path = "../targets/mod.rs"]
mod targets;

use std::sync::LazyLock;

const VARIABLE: &str = "COTTERPIN_TARGET";

static TARGET: LazyLock<fn(&[u8])> = LazyLock::new(|| {
    let wanted = std::env::var(VARIABLE).unwrap_or_default();
    let names = targets::ALL.map(|(name, _)| name).join(", ");
    let found = targets::ALL.into_iter().find(|(name, _)| *name == wanted);
    found.unwrap_or_else(|| panic!("{VARIABLE} is one of {names}")).1
});

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| TARGET(bytes));
