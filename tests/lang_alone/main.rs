//! The language alone, without the engine: quantities against outside
//! oracles, and packs checked by nothing but this crate.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::arithmetic_side_effects,
    reason = "a test may fail loudly, and says where; the library may not"
)]
#![expect(clippy::float_cmp, reason = "whether two floats are the very same is what these tests ask")]
#![expect(clippy::disallowed_methods, reason = "the seed of a run may be given by the environment")]

mod dates;
#[path = "../fixtures"]
#[expect(dead_code, reason = "the tests of the engine use more of them")]
mod fixtures {
    pub(crate) mod dice;
    pub(crate) mod seed;
}
mod grammar;
mod intervals;
mod kleene;
mod loading;
mod quantities;
mod units;
