//! Time, in medians, and the memory of this process.

use std::hint::black_box;
use std::time::{Duration, Instant};

/// Rounds of which the median counts.
const ROUNDS: usize = 15;

/// The median time of one call in nanoseconds. Each round repeats the call
/// until it takes a few milliseconds, so the clock's own grain does not count.
pub(crate) fn nanoseconds<T>(mut call: impl FnMut() -> T) -> f64 {
    let begun = Instant::now();
    black_box(call());
    let once = begun.elapsed().max(Duration::from_nanos(20));
    let repeats = (Duration::from_millis(4).as_nanos() / once.as_nanos()).clamp(1, 1_000_000) as u32;
    let mut rounds: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let begun = Instant::now();
            for _ in 0..repeats {
                black_box(call());
            }
            begun.elapsed().as_secs_f64() * 1e9 / f64::from(repeats)
        })
        .collect();
    median(&mut rounds)
}

/// The median time in milliseconds of a few calls that take long.
pub(crate) fn milliseconds<T>(rounds: usize, mut call: impl FnMut() -> T) -> f64 {
    let mut rounds: Vec<f64> = (0..rounds)
        .map(|_| {
            let begun = Instant::now();
            black_box(call());
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    median(&mut rounds)
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Resident memory of this process in megabytes (1e6 bytes); `None` where the
/// system does not tell (`/proc` is Linux).
pub(crate) fn resident() -> Option<f64> {
    status("VmRSS:")
}

/// The most it ever had.
pub(crate) fn most_resident() -> Option<f64> {
    status("VmHWM:")
}

fn status(row: &str) -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with(row))?;
    let kibibytes: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kibibytes * 1024.0 / 1e6)
}
