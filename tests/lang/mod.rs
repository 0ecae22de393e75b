//! The language: what each construct means, and what a mistake in it is told.
