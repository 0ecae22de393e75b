//! The log and lapse: a slow reference, random logs, and the stories that the
//! meaning was made for.

mod changes;
pub(crate) mod kept;
mod log_text;
pub(crate) mod mistakes;
mod random;
mod reference;
mod story;

/// A fixed row of pseudo-random numbers (`splitmix64`, public domain), the same
/// on every machine.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % n as u64).expect("it fits")
    }

    fn once_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}
