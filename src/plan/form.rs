//! The hull's form, whichever way it was given: by sections, or by a tape from which the sections are lofted.

use std::fmt;
use std::ops::Deref;

use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::tape::Tape;
use crate::geometry::Form;

/// The hull's form. It reads as a [`Form`]; one that came from a tape is lofted once, when the tape is set.
///
/// File form: a list of sections, or a tape `(length: [M(3.4)], stations: [...])`. Lofted sections are not saved.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct HullForm {
    form: Form,
    tape: Option<Tape>,
}

impl HullForm {
    /// The form that a tape describes; without sections when a measurement is missing.
    pub fn taped(tape: Tape) -> Self {
        let form = tape.lines().map(|lines| lines.form()).unwrap_or_default();
        Self { form, tape: Some(tape) }
    }

    /// The tape, if the form came from one.
    pub fn tape(&self) -> Option<&Tape> {
        self.tape.as_ref()
    }
}

impl From<Form> for HullForm {
    fn from(form: Form) -> Self {
        Self { form, tape: None }
    }
}

impl Deref for HullForm {
    type Target = Form;
    fn deref(&self) -> &Form {
        &self.form
    }
}

impl Serialize for HullForm {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        match &self.tape {
            Some(tape) => tape.serialize(out),
            None => self.form.serialize(out),
        }
    }
}

impl<'de> Deserialize<'de> for HullForm {
    fn deserialize<D: Deserializer<'de>>(input: D) -> Result<Self, D::Error> {
        struct Read;
        impl<'de> Visitor<'de> for Read {
            type Value = HullForm;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "sections in square brackets, or a tape (length: ..., stations: [...])")
            }
            fn visit_seq<A: SeqAccess<'de>>(self, sections: A) -> Result<HullForm, A::Error> {
                Ok(Form { sections: Vec::deserialize(SeqAccessDeserializer::new(sections))? }.into())
            }
            fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<HullForm, A::Error> {
                Tape::deserialize(MapAccessDeserializer::new(fields)).map(HullForm::taped)
            }
        }
        input.deserialize_any(Read)
    }
}
