//! A checked call, and what a word does with it.

use crate::model::{OptionValue, Options, PartId, Word};
use crate::script::run::Run;
use crate::script::value::Value;
use crate::source::Origin;

/// A call whose arguments and options have been checked.
pub(in crate::script) struct Call {
    /// The word.
    pub(in crate::script) word: &'static Word,
    /// Parts given for each part argument.
    pub(in crate::script) parts: Vec<Vec<PartId>>,
    /// Values and options.
    pub(in crate::script) options: Options,
    /// Where it was written.
    pub(in crate::script) origin: Origin,
}

impl Call {
    /// How much it hands over, about; what was made of it takes as much as a
    /// short name.
    pub(in crate::script) fn bytes(&self) -> usize {
        let parts: usize = self.parts.iter().map(Vec::len).sum();
        let options: usize = self.options.0.values().map(OptionValue::bytes).sum();
        32 + parts * size_of::<PartId>() + options
    }
}

/// What an own word does with a checked call.
pub(in crate::script) type Act = fn(&mut Run, &Call) -> Value;

/// What a word of the language does, and what it gives when its call is wrong.
#[derive(Clone, Copy)]
pub(in crate::script) struct Does {
    /// Does the work.
    pub(in crate::script) act: Act,
    /// The value that stands for what could not be made.
    pub(in crate::script) spoilt: fn() -> Value,
}
