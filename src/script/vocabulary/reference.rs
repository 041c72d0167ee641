//! What a script can say, chapter by chapter, for whoever wants to read it rather
//! than run it: the words of the language, and what it can say besides in words that
//! take no options.

use super::chapters;
use super::saying::Saying;
use crate::model::{Takes, Word};

/// A chapter of the reference.
#[derive(Debug)]
pub struct Chapter {
    /// Its title.
    pub title: &'static str,
    /// Its words.
    pub words: Vec<&'static Word>,
    /// What can be said in it besides.
    pub sayings: &'static [Saying],
}

/// The words of the language and of joinery, in reading order.
pub fn chapters(joinery: &[&'static Word]) -> Vec<Chapter> {
    let mut all = Vec::new();
    for (title, words, sayings) in chapters::chapters() {
        let words = words.iter().map(|(word, _)| *word).collect();
        all.push(Chapter { title, words, sayings });
        if title == chapters::PARTS {
            let (shaping, joints) = joinery.iter().copied().partition(|word| shapes_one_part(word));
            all.push(Chapter { title: "Joints", words: joints, sayings: &[] });
            all.push(Chapter { title: "Shaping", words: shaping, sayings: &[] });
        }
    }
    all
}

/// Whether a word works on one part alone; all others bring parts together.
fn shapes_one_part(word: &Word) -> bool {
    let parts: Vec<Takes> =
        word.args.iter().map(|a| a.takes).filter(|t| !matches!(t, Takes::Value(_))).collect();
    parts == [Takes::Part]
}
