//! Problems as text: what is wrong, the script lines, what to do.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use super::{Problem, Severity, seen};
use crate::source::{Source, Sources, Span};

/// One problem as plain text with its script excerpts; ends with a line break.
pub fn render(problem: &Problem, sources: &Sources) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::NOTE.with_name("advice"),
    };
    let mut group = Group::with_title(level.primary_title(seen(&problem.message)).id(problem.code));
    for snippet in snippets(problem, sources) {
        group = group.element(snippet);
    }
    if let Some(help) = &problem.help {
        group = group.element(Level::HELP.message(seen(help)));
    }
    let text = Renderer::plain().render(&[group]);
    let mut lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    // The excerpt ends with an empty bar that says nothing when help follows.
    lines.dedup();
    // So does the bar between the title and the help where there is no excerpt.
    if lines.get(1).is_some_and(|l| l.trim() == "|") {
        lines.remove(1);
    }
    lines.join("\n") + "\n"
}

/// Most problems of one severity that are told one by one: nobody reads more, and the
/// first are mended first.
const TOLD: usize = 100;

/// All problems, worst first and otherwise in the order found, with an empty line between
/// them, then a line that counts them. Empty if there are none. Of many of one severity
/// only the first are told, with how many are left out.
pub fn render_all(problems: &[Problem], sources: &Sources) -> String {
    if problems.is_empty() {
        return String::new();
    }
    let mut text = String::new();
    for severity in [Severity::Error, Severity::Warning, Severity::Advice] {
        let of: Vec<&Problem> = problems.iter().filter(|p| p.severity == severity).collect();
        for problem in of.iter().take(TOLD) {
            text += &render(problem, sources);
            text.push('\n');
        }
        if let Some(more @ 1..) = of.len().checked_sub(TOLD) {
            text.push_str("… and ");
            text += &more_of(severity, more);
            text.push_str(", not told here\n\n");
        }
    }
    text += &summary(problems);
    text.push('\n');
    text
}

/// `2 more errors`.
fn more_of(severity: Severity, n: usize) -> String {
    counted(severity, n).replacen(' ', " more ", 1)
}

/// `2 errors`.
fn counted(severity: Severity, n: usize) -> String {
    let (one, many) = match severity {
        Severity::Error => ("error", "errors"),
        Severity::Warning => ("warning", "warnings"),
        Severity::Advice => ("piece of advice", "pieces of advice"),
    };
    super::wording::count(n, one, many)
}

/// `2 errors, 1 warning`.
pub fn summary(problems: &[Problem]) -> String {
    let of = |severity| problems.iter().filter(|p| p.severity == severity).count();
    let said: Vec<String> = [Severity::Error, Severity::Warning, Severity::Advice]
        .into_iter()
        .map(|severity| (severity, of(severity)))
        .filter(|(_, n)| *n > 0)
        .map(|(severity, n)| counted(severity, n))
        .collect();
    if said.is_empty() { "no problems".into() } else { said.join(", ") }
}

/// The excerpts, one for each text that is pointed into, in order.
fn snippets<'a>(
    problem: &'a Problem,
    sources: &'a Sources,
) -> Vec<Snippet<'a, annotate_snippets::Annotation<'a>>> {
    let mut ids: Vec<_> = Vec::new();
    for place in &problem.places {
        if !ids.contains(&place.span.source) {
            ids.push(place.span.source);
        }
    }
    let mut found = Vec::new();
    for id in ids {
        let Some(source) = sources.get(id) else { continue };
        let mut snippet = Snippet::source(&*source.text).path(source.name.as_str());
        let here = problem.places.iter().enumerate().filter(|(_, p)| p.span.source == id);
        for (i, place) in here {
            let kind = if i == 0 { AnnotationKind::Primary } else { AnnotationKind::Context };
            let mark = kind.span(within(source, place.span));
            let label = (!place.label.is_empty()).then_some(place.label.as_str());
            snippet = snippet.annotation(mark.label(label));
        }
        found.push(snippet);
    }
    found
}

/// The span cut to the text and to whole characters, so that no span can stop
/// the renderer.
fn within(source: &Source, span: Span) -> std::ops::Range<usize> {
    let text = &source.text;
    let floor = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = floor(span.start);
    start..floor(span.end).max(start)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::SourceId;

    fn sources(text: &str) -> Sources {
        Sources { list: vec![Source { name: "shelf.rhai".into(), text: text.into(), library: false }] }
    }

    #[test]
    fn a_problem_reads_with_its_line() {
        let sources = sources("piece(\"Shelf\");\nhousng(a, b);\n");
        let span = Span { source: SourceId(0), start: 16, end: 22 };
        let problem = Problem::error("unknown-word", "there is no word `housng`")
            .place(span, "")
            .help("write `housing`");
        assert_eq!(
            render(&problem, &sources),
            "error[unknown-word]: there is no word `housng`\n --> shelf.rhai:2:1\n  |\n2 | housng(a, b);\n  | ^^^^^^\n  |\n  = help: write `housing`\n"
        );
    }

    #[test]
    fn a_problem_without_a_place_and_a_bad_span_render() {
        let nowhere = Problem::advice("a", "b");
        assert_eq!(render(&nowhere, &Sources::default()), "advice[a]: b\n");
        let beyond = Problem::error("a", "b").place(Span { source: SourceId(0), start: 900, end: 2 }, "x");
        assert!(render(&beyond, &sources("é")).starts_with("error[a]: b\n"));
    }

    #[test]
    fn problems_are_counted() {
        let problems = [Problem::error("a", "b"), Problem::error("a", "c"), Problem::warning("a", "d")];
        assert_eq!(summary(&problems), "2 errors, 1 warning");
        assert_eq!(summary(&[]), "no problems");
    }

    #[test]
    fn of_many_problems_the_first_of_each_severity_are_told() {
        let mut problems: Vec<Problem> = (0..2000).map(|n| Problem::advice("a", format!("no {n}"))).collect();
        problems.push(Problem::error("b", "last"));
        let text = render_all(&problems, &Sources::default());
        assert!(text.starts_with("error[b]: last\n"), "{text}");
        assert_eq!(text.matches("advice[a]").count(), 100);
        assert!(
            text.contains("no 99\n\n… and 1900 more pieces of advice, not told here\n\n1 error, 2000 pieces")
        );
    }
}
