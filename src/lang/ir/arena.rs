//! Arrays that are looked up by the id of their own kind alone.

use super::ids::{Id, Run};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::marker::PhantomData;

/// Things of one kind, each under its id.
#[derive(Clone, PartialEq)]
pub struct Arena<I, T> {
    all: Vec<T>,
    id: PhantomData<I>,
}

impl<I: Id, T> Arena<I, T> {
    /// So many of the same.
    pub fn filled(value: T, len: usize) -> Self
    where
        T: Clone,
    {
        vec![value; len].into()
    }

    /// Adds one and gives its id.
    pub fn push(&mut self, value: T) -> I {
        let id = self.next();
        self.all.push(value);
        id
    }

    /// The id that the next one added will have.
    #[must_use]
    pub fn next(&self) -> I {
        I::new(self.all.len())
    }

    /// The one of that id.
    #[inline]
    #[must_use]
    pub fn get(&self, id: I) -> Option<&T> {
        self.all.get(id.index())
    }

    /// The same, to be changed.
    pub fn get_mut(&mut self, id: I) -> Option<&mut T> {
        self.all.get_mut(id.index())
    }

    /// Puts another in the place of one that is there.
    pub fn set(&mut self, id: I, value: T) {
        if let Some(place) = self.get_mut(id) {
            *place = value;
        }
    }

    /// Each with its id.
    pub fn with_ids(&self) -> impl Iterator<Item = (I, &T)> {
        self.all.iter().enumerate().map(|(at, one)| (I::new(at), one))
    }

    /// The first that is so.
    pub fn position(&self, is: impl FnMut(&T) -> bool) -> Option<I> {
        self.all.iter().position(is).map(I::new)
    }

    /// All ids, in order.
    pub fn ids(&self) -> impl Iterator<Item = I> + use<I, T> {
        (0..self.all.len()).map(I::new)
    }

    /// All of them, to be changed.
    pub fn iter_mut(&mut self) -> std::slice::IterMut<'_, T> {
        self.all.iter_mut()
    }

    /// All of them.
    pub fn iter(&self) -> std::slice::Iter<'_, T> {
        self.all.iter()
    }

    /// The one of that id and all that follow.
    #[inline]
    #[must_use]
    pub fn from(&self, id: I) -> &[T] {
        self.all.get(id.index()..).unwrap_or(&[])
    }

    /// Makes it long enough to hold an id.
    pub fn reach(&mut self, id: I, filling: T)
    where
        T: Clone,
    {
        let len = id.index().saturating_add(1);
        if self.all.len() < len {
            self.all.resize(len, filling);
        }
    }

    /// Gives back room that is not used.
    pub fn shrink(&mut self) {
        self.all.shrink_to_fit();
    }

    /// The first of them, in order; `None` if there are not so many.
    #[inline]
    #[must_use]
    pub fn prefix(&self, len: usize) -> Option<&[T]> {
        self.all.get(..len)
    }

    /// The first of them, if there is one.
    #[must_use]
    pub fn first(&self) -> Option<&T> {
        self.all.first()
    }

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }
}

/// As the list of them, in order.
impl<I, T: Serialize> Serialize for Arena<I, T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.all.serialize(to)
    }
}

impl<'de, I, T: Deserialize<'de>> Deserialize<'de> for Arena<I, T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Vec::deserialize(from).map(Self::from)
    }
}

impl<I, T> Default for Arena<I, T> {
    fn default() -> Self {
        Vec::new().into()
    }
}

impl<I, T> From<Vec<T>> for Arena<I, T> {
    fn from(all: Vec<T>) -> Self {
        Self { all, id: PhantomData }
    }
}

impl<I, T> FromIterator<T> for Arena<I, T> {
    fn from_iter<A: IntoIterator<Item = T>>(all: A) -> Self {
        Vec::from_iter(all).into()
    }
}

impl<'a, I: Id, T> IntoIterator for &'a Arena<I, T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl<I, T: std::fmt::Debug> std::fmt::Debug for Arena<I, T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_list().entries(&self.all).finish()
    }
}

/// Things of one kind that are looked up run by run.
#[derive(Debug, Clone, PartialEq)]
pub struct Runs<T>(Vec<T>);

impl<T> Runs<T> {
    /// Adds some and gives their run.
    pub fn push(&mut self, some: impl IntoIterator<Item = T>) -> Run<T> {
        let start = self.0.len();
        self.0.extend(some);
        Run::new(start, self.0.len().saturating_sub(start))
    }

    /// Those of a run.
    #[inline]
    #[must_use]
    pub fn get(&self, run: Run<T>) -> &[T] {
        self.0.get(run.range()).unwrap_or(&[])
    }
}

impl<T> Default for Runs<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

mod stored {
    use super::{Arena, Runs};
    use crate::codec::{Codec, Reader, Writer};

    impl<I, T: Codec> Codec for Arena<I, T> {
        fn encode(&self, to: &mut Writer<'_>) {
            self.all.encode(to);
        }

        fn decode(from: &mut Reader<'_>) -> Option<Self> {
            Vec::decode(from).map(Self::from)
        }
    }

    impl<T: Codec> Codec for Runs<T> {
        fn encode(&self, to: &mut Writer<'_>) {
            self.0.encode(to);
        }

        fn decode(from: &mut Reader<'_>) -> Option<Self> {
            Vec::decode(from).map(Self)
        }
    }
}
