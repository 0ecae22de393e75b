//! Nothing that is called invented points at a true aircraft, person, kit or brand.
//!
//! `scheme` is what the registries publish of marks and addresses, `found` looks for both in a text,
//! `files` says which texts are looked through; `marks` and `names` are the tests.

mod files;
mod found;
mod marks;
mod names;
mod scheme;
