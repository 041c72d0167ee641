//! Where a word was written: the user's line, and the library's inside a type.
//!
//! The engine gives a native function only the innermost call. The debugger's
//! call stack has the others: a frame holds the file of the function called
//! and the line of its caller, so the file of a line stands in the frame before.

use rhai::{NativeCallContext, Position};

use crate::script::text;
use crate::source::{Origin, SourceId, Sources, Span};

/// Name under which a text is known to the engine.
pub(in crate::script) fn source_name(id: SourceId) -> String {
    id.0.to_string()
}

/// The text an engine name stands for; the main script where it has none.
pub(in crate::script) fn source_id(name: Option<&str>) -> SourceId {
    SourceId(name.and_then(|n| n.parse().ok()).unwrap_or(0))
}

/// The word or sign at an engine position.
pub(in crate::script) fn span(sources: &Sources, id: SourceId, position: Position) -> Span {
    let text = sources.get(id).map_or("", |s| &*s.text);
    let Some(line) = position.line() else { return Span { source: id, start: 0, end: 0 } };
    let start = text::offset(text, line, position.position().unwrap_or(1));
    let found = text::token(text, start);
    Span { source: id, start: found.start, end: found.end }
}

/// Where the word now running was written.
pub(in crate::script) fn origin(sources: &Sources, context: &NativeCallContext) -> Origin {
    let inner = source_id(context.call_source());
    let innermost = span(sources, inner, context.call_position());
    let library = |id: SourceId| sources.get(id).is_some_and(|s| s.library);
    if !library(inner) {
        return Origin { user: innermost, library: None };
    }
    let user = calls(sources, context).into_iter().rev().find(|s| !library(s.source));
    Origin { user: user.unwrap_or(innermost), library: Some(innermost) }
}

/// The call of the function that the word now running stands in, and whether it
/// is written in the library; `None` where the word stands in no function.
pub(in crate::script) fn caller(sources: &Sources, context: &NativeCallContext) -> Option<(Span, bool)> {
    // The stack may hold the word itself last.
    let own = span(sources, source_id(context.call_source()), context.call_position());
    let call = calls(sources, context).into_iter().rev().find(|call| *call != own)?;
    Some((call, sources.get(call.source).is_some_and(|s| s.library)))
}

/// All calls that led here, outermost first.
fn calls(sources: &Sources, context: &NativeCallContext) -> Vec<Span> {
    let frames = context.debugger().map_or(&[][..], |d| d.call_stack());
    let mut file = SourceId(0);
    let mut found = Vec::new();
    for frame in frames {
        let place = span(sources, file, frame.pos);
        // A closure reports the file it runs in with the line it was written
        // on; where the text there is not the call, the place is not used.
        if written(sources, place) == Some(frame.fn_name.as_str()) {
            found.push(place);
        }
        file = source_id(frame.source.as_deref());
    }
    found
}

/// The text of a span.
pub(in crate::script) fn written(sources: &Sources, span: Span) -> Option<&str> {
    sources.get(span.source)?.text.get(span.start..span.end)
}
