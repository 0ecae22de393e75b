//! What somebody who means harm, or a slip, can hand in: each was once seen to succeed. Steps and bytes are counted,
//! never seconds.

mod budget;
mod limits;
mod saving;
mod terminal;
