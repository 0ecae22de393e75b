//! How a type becomes bytes and comes back. What is made ready this way stands
//! in the binary; it is made and read by one build of this crate, so the bytes
//! have no version and no fingerprint.

mod bytes;
mod forms;

pub(crate) use bytes::{Reader, Stored, Writer};
pub(crate) use forms::{all_of, one_of};
