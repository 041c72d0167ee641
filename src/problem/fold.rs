//! Findings of one cause told once: a loop makes the same mistake at every turn, and so do
//! lines that are copied.

use super::{Place, Problem};

/// So many of one code at one place of the script are told as one: two may well be two
/// ends of a part.
const MANY: usize = 3;

/// Findings with those of one code and one place folded into the first, which says how
/// many more there are.
pub fn fold(found: Vec<Problem>) -> Vec<Problem> {
    let mut kept: Vec<(Problem, Vec<Problem>)> = Vec::new();
    for problem in found {
        let like = |(first, _): &&mut (Problem, Vec<Problem>)| {
            first.code == problem.code
                && first.severity == problem.severity
                && !first.places.is_empty()
                && first.places == problem.places
        };
        match kept.iter_mut().find(like) {
            Some((_, more)) => more.push(problem),
            None => kept.push((problem, Vec::new())),
        }
    }
    alike(kept.into_iter().flat_map(|(first, more)| told(first, more)).collect())
}

/// Most places of findings alike that are shown; the rest is counted.
const SHOWN: usize = 8;

/// Findings of several lines that say the same but for the names of parts, folded into the
/// first, which points at the others' lines as well.
fn alike(found: Vec<Problem>) -> Vec<Problem> {
    let mut kept: Vec<(Problem, Vec<Problem>)> = Vec::new();
    for problem in found {
        let like = |(first, _): &&mut (Problem, Vec<Problem>)| {
            first.code == problem.code
                && first.severity == problem.severity
                && !first.places.is_empty()
                && !problem.places.is_empty()
                && nameless(&first.message, &first.parts) == nameless(&problem.message, &problem.parts)
                && first.help.as_ref().map(|help| nameless(help, &first.parts))
                    == problem.help.as_ref().map(|help| nameless(help, &problem.parts))
        };
        match kept.iter_mut().find(like) {
            Some((_, more)) => more.push(problem),
            None => kept.push((problem, Vec::new())),
        }
    }
    kept.into_iter().flat_map(|(first, more)| at_all_lines(first, more)).collect()
}

/// A text without the names of parts in it.
fn nameless(text: &str, parts: &[String]) -> String {
    parts.iter().fold(text.to_owned(), |text, part| text.replace(&format!("`{part}`"), "``"))
}

/// The first of several with the lines of all, or each of a few.
fn at_all_lines(mut first: Problem, more: Vec<Problem>) -> Vec<Problem> {
    if more.len() + 1 < MANY {
        return [vec![first], more].concat();
    }
    first.message = format!("{} (and {} more like it, at the lines marked)", first.message, more.len());
    for problem in more {
        let here = problem.places.first().map(|place| place.span);
        let new = here.filter(|here| first.places.iter().all(|place| place.span != *here));
        if let Some(span) = new.filter(|_| first.places.len() < SHOWN) {
            first.places.push(Place { span, label: "here too".into() });
        }
        for part in problem.parts {
            if !first.parts.contains(&part) {
                first.parts.push(part);
            }
        }
    }
    vec![first]
}

/// The first of several with their number, or each of a few.
fn told(mut first: Problem, more: Vec<Problem>) -> Vec<Problem> {
    if more.len() + 1 < MANY {
        return [vec![first], more].concat();
    }
    first.message = format!("{} (and {} more like it from this line)", first.message, more.len());
    for part in more.into_iter().flat_map(|problem| problem.parts) {
        if !first.parts.contains(&part) {
            first.parts.push(part);
        }
    }
    vec![first]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::{Origin, SourceId, Span};

    #[test]
    fn many_of_one_place_are_told_once_and_others_as_they_are() {
        let at = |start| Origin { user: Span { source: SourceId(0), start, end: start + 4 }, library: None };
        let one = |code, start, name: &str| {
            Problem::error(code, format!("`{name}` does not fit")).at(at(start)).part(name)
        };
        let names = ["a", "b", "c", "d"];
        let loops: Vec<Problem> = names.iter().map(|name| one("does-not-fit", 10, name)).collect();
        let mut all = loops.clone();
        all.insert(1, one("does-not-fit", 90, "e"));
        all.push(one("no-corner", 10, "f"));
        let told = fold(all);
        let said: Vec<&str> = told.iter().map(|p| p.message.as_str()).collect();
        let first = "`a` does not fit (and 3 more like it from this line)";
        assert_eq!(said, [first, "`e` does not fit", "`f` does not fit"]);
        assert_eq!(told[0].parts, names);
        assert_eq!(fold(loops[..2].to_vec()), loops[..2]);
    }

    #[test]
    fn what_several_lines_say_alike_is_told_once_with_all_its_lines() {
        let at = |start| Origin { user: Span { source: SourceId(0), start, end: start + 4 }, library: None };
        let one = |start, name: &str, by: u32| {
            Problem::warning("short-grain", format!("{by} mm are left of `{name}`"))
                .at(at(start))
                .part(name)
                .help(format!("move it off the end of `{name}`"))
        };
        let all = vec![one(10, "a", 6), one(30, "b", 6), one(50, "c", 3), one(70, "d", 6)];
        let told = fold(all.clone());
        let said: Vec<&str> = told.iter().map(|p| p.message.as_str()).collect();
        let first = "6 mm are left of `a` (and 2 more like it, at the lines marked)";
        assert_eq!(said, [first, "3 mm are left of `c`"]);
        let lines: Vec<usize> = told[0].places.iter().map(|place| place.span.start).collect();
        assert_eq!((lines, told[0].parts.len()), (vec![10, 30, 70], 3));
        // Two are told each by itself, and so is what reads otherwise.
        assert_eq!(fold(all[..3].to_vec()), all[..3]);
    }
}
