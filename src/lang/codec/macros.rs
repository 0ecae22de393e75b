//! How types are stored: one line per type, with its fields or its forms.

/// All fields of a type, in this order: a place stands before what is read from it. After a `;` those
/// that are not stored, with what they are when read.
macro_rules! all_of {
    ($($type:ident { $($field:ident),+ $(; $rest:ident: $value:expr)* })+) => {$(
        impl $crate::codec::Codec for $type {
            fn encode(&self, to: &mut $crate::codec::Writer<'_>) {
                let Self { $($field,)+ $($rest: _,)* } = self;
                $($crate::codec::Codec::encode($field, to);)+
            }

            fn decode(from: &mut $crate::codec::Reader<'_>) -> Option<Self> {
                $(let $field = $crate::codec::Codec::decode(from)?;)+
                Some(Self { $($field,)+ $($rest: $value,)* })
            }
        }
    )+};
}

/// One of several forms, by a number of its own.
macro_rules! one_of {
    ($($type:ident { $($number:literal $form:ident $(($($part:ident),+))? $({ $($field:ident),+ })?),+ $(,)? })+) => {$(
        impl $crate::codec::Codec for $type {
            fn encode(&self, to: &mut $crate::codec::Writer<'_>) {
                match self {
                    $(Self::$form $(($($part),+))? $({ $($field),+ })? => {
                        to.number($number);
                        $($($crate::codec::Codec::encode($part, to);)+)?
                        $($($crate::codec::Codec::encode($field, to);)+)?
                    })+
                }
            }

            fn decode(from: &mut $crate::codec::Reader<'_>) -> Option<Self> {
                match from.number()? {
                    $($number => {
                        $($(let $part = $crate::codec::Codec::decode(from)?;)+)?
                        $($(let $field = $crate::codec::Codec::decode(from)?;)+)?
                        Some(Self::$form $(($($part),+))? $({ $($field),+ })?)
                    })+
                    _ => None,
                }
            }
        }
    )+};
}

pub(crate) use {all_of, one_of};
