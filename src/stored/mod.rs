//! What is made beforehand and stands in the binary as bytes: how a type
//! becomes bytes and comes back. What is stored, and when it may be used, is
//! said where its types are at home.

mod bytes;
mod fingerprint;
mod forms;

pub(crate) use bytes::{Reader, Stored, Writer};
pub(crate) use fingerprint::{Fingerprint, fingerprint};
pub(crate) use forms::{all_of, one_of};

// Worked out by `build.rs` of this room.
include!(concat!(env!("OUT_DIR"), "/fingerprints.rs"));
