//! How a type becomes bytes and comes back. What is made ready this way stands
//! in the binary; it is made and read by one build of this crate, so the bytes
//! have no version and no fingerprint.

mod bytes;
mod macros;

pub(crate) use bytes::{Codec, Reader, Writer};
pub(crate) use macros::{all_of, one_of};
