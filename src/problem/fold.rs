//! Findings of one cause told once: a loop makes the same mistake at every turn.

use super::Problem;

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
    kept.into_iter().flat_map(|(first, more)| told(first, more)).collect()
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
}
