//! Every option of every word with a value of a wrong kind, out of its range and
//! misspelt: a problem at the line, that names the option and says what to do.

use rodwright::model::{OptionKind, OptionSpec, Word};
use rodwright::problem::{Severity, render_all};
use rodwright::script::own_words;

use crate::script::words::frames;
use crate::support::scripts::request;

/// All words that take options: those of the language, then those of joinery.
fn all() -> Vec<&'static Word> {
    let words = own_words().into_iter().chain(rodwright::words().iter().copied());
    words.filter(|w| !w.options.is_empty()).collect()
}

/// Texts between commas that stand in no bracket and in no quotation.
fn split_top(text: &str) -> Vec<&str> {
    let (mut parts, mut deep, mut quoted, mut from) = (Vec::new(), 0, false, 0);
    for (at, c) in text.char_indices() {
        match c {
            '"' => quoted = !quoted,
            '(' | '[' | '{' if !quoted => deep += 1,
            ')' | ']' | '}' if !quoted => deep -= 1,
            ',' if deep == 0 && !quoted => {
                parts.push(text[from..at].trim());
                from = at + 1;
            }
            _ => {}
        }
    }
    parts.push(text[from..].trim());
    parts.retain(|p| !p.is_empty());
    parts
}

/// The example of a word in its frame, with one option put in or in place of what
/// it gives; and the line the word stands in.
fn script(word: &Word, known: &str, asked: &str) -> String {
    let name = format!("{}(", word.name);
    let from = word.example.find(&name).unwrap() + name.len();
    let mut deep = 1;
    let end = word.example[from..].char_indices().find(|(_, c)| {
        deep += i32::from("([{".contains(*c)) - i32::from(")]}".contains(*c));
        deep == 0
    });
    let end = from + end.unwrap().0;
    let mut args = split_top(&word.example[from..end]);
    let given = args.last().and_then(|a| a.strip_prefix("#{")).map(|a| a.trim_end_matches('}').trim());
    let given = given.inspect(|_| _ = args.pop()).unwrap_or_default();
    let mut options: Vec<&str> = split_top(given);
    options.retain(|o| o.split(':').next().unwrap().trim() != known);
    options.push(asked);
    let options = format!("#{{ {} }}", options.join(", "));
    args.push(&options);
    let example = format!("{}{}{}", &word.example[..from], args.join(", "), &word.example[end..]);
    let frames = frames();
    let frame = frames.get(word.name).unwrap_or(&frames["*"]);
    frame.replace("EXAMPLE", &example)
}

/// What is wrong with how one bad option is answered, if anything.
fn answer(word: &Word, key: &str, asked: &str, suggests: Option<&str>) -> Option<String> {
    let text = script(word, key, asked);
    let done = rodwright::examine(&request("bad", text.clone()));
    let said = render_all(&done.problems, &done.sources);
    let wrong = |why: &str| Some(format!("{} with `{asked}`: {why}\n{said}", word.name));
    let line = text.lines().position(|l| l.contains(asked)).unwrap();
    let told = done.problems.iter().find(|p| {
        let shown = format!("{} {}", p.message, p.help.as_deref().unwrap_or_default());
        p.severity == Severity::Error && shown.contains(&format!("`{key}`"))
    });
    let Some(problem) = told else { return wrong("no error names it") };
    if problem.help.is_none() {
        return wrong("it does not say what to do");
    }
    let Some(place) = problem.places.first() else { return wrong("it says no place") };
    let at = text[..place.span.start].matches('\n').count();
    if at != line {
        return wrong("its place is another line");
    }
    if let Some(name) = suggests
        && !problem.help.as_deref().unwrap_or_default().contains(&format!("`{name}`"))
    {
        return wrong("the right name is not suggested");
    }
    None
}

/// Values of a wrong kind for an option.
fn of_wrong_kind(option: &OptionSpec) -> Vec<&'static str> {
    match option.kind {
        OptionKind::Length { .. }
        | OptionKind::Count { .. }
        | OptionKind::Angle { .. }
        | OptionKind::Ratio { .. } => {
            vec!["\"much\"", "true", "[1, 2]"]
        }
        OptionKind::Choice(_) => vec!["7", "\"sideways\"", "true"],
        OptionKind::YesNo => vec!["7", "\"perhaps\""],
        OptionKind::Text | OptionKind::Texts => vec!["7", "#{}"],
        OptionKind::Pair => vec!["true", "\"8 by\"", "[1]"],
        OptionKind::Lengths => vec!["true", "[\"much\"]"],
        OptionKind::Side | OptionKind::Sides => vec!["7", "\"upwards\"", "[7]"],
        OptionKind::Stock => vec!["7", "\"oak\""],
        OptionKind::Places => vec!["7", "[7]", "[[1]]", "[]", "[[1, 2], 7]"],
        OptionKind::Points => {
            vec!["7", "[7]", "[[1]]", "[[0, 0], [9, 0, 1], [0, 9]]", "[[0, 0], #{ rise: 5 }, [0, 9]]"]
        }
        OptionKind::Stations => vec!["7", "[7]", "[[1]]"],
        OptionKind::Span => vec!["true", "[1]", "[2, 1]"],
        OptionKind::Sheets
        | OptionKind::Boards
        | OptionKind::Turn
        | OptionKind::Runs
        | OptionKind::Revisions => {
            vec!["true", "[[]]", "#{ nothing: 1 }"]
        }
    }
}

/// Values outside the range of an option.
fn out_of_range(option: &OptionSpec) -> Vec<String> {
    match option.kind {
        OptionKind::Length { min, max } | OptionKind::Angle { min, max } | OptionKind::Ratio { min, max } => {
            vec![format!("{:?}", min - 0.1), format!("{:?}", max + 0.1), "-20000.5".into(), "1.0e300".into()]
        }
        OptionKind::Count { min, max } => {
            vec![(i64::from(min) - 1).to_string(), (max + 1).to_string(), "2.5".into(), "-1".into()]
        }
        OptionKind::Pair => vec!["[0, 0]".into(), "[-4, 30]".into(), "[1.0e300, 1]".into()],
        OptionKind::Lengths => vec!["[-1.0e300]".into(), "[1.0e300]".into()],
        _ => Vec::new(),
    }
}

#[test]
fn every_option_of_every_word_is_suggested_where_it_is_misspelt() {
    let mut wrong = Vec::new();
    for word in all() {
        for option in word.options {
            // The last letter once more, as a hurried hand writes it.
            let bad = format!("{}{}", option.key, option.key.chars().last().unwrap());
            if word.options.iter().any(|o| o.key == bad) {
                continue;
            }
            let value = of_wrong_kind(option)[0];
            let name = (option.key.len() > 3).then_some(option.key);
            wrong.extend(answer(word, &bad, &format!("{bad}: {value}"), name));
        }
    }
    assert!(wrong.is_empty(), "{}\n{}", wrong.len(), wrong.join("\n"));
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn every_option_of_every_word_refuses_a_wrong_kind_and_what_is_out_of_range() {
        let (mut wrong, mut asked) = (Vec::new(), 0);
        for word in all() {
            for option in word.options {
                let values = of_wrong_kind(option).into_iter().map(str::to_owned).chain(out_of_range(option));
                for value in values {
                    asked += 1;
                    wrong.extend(answer(word, option.key, &format!("{}: {value}", option.key), None));
                }
            }
        }
        assert!(asked > 1500, "only {asked} asked");
        assert!(wrong.is_empty(), "{} of {asked}\n{}", wrong.len(), wrong.join("\n"));
    }
}
