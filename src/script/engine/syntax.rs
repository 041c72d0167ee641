//! What cannot be read of a script, in plain words: the engine's own speak of its inside.

use rhai::{LexError, ParseErrorType};

/// What is wrong with a text that cannot be read, and what to do.
pub(super) fn told(error: &ParseErrorType) -> (String, &'static str) {
    use ParseErrorType as P;
    if let P::BadInput(input) = error {
        return letters(input);
    }
    let (says, help): (String, &str) = match error {
        P::PropertyExpected => {
            ("a name is missing here".into(), "write the name of an option: `#{ depth: 6 }`")
        }
        P::VariableExpected => ("a name is missing here".into(), "give the value a name: `let width = 900;`"),
        P::ExprExpected(_) => {
            ("something is missing here".into(), "put a value, a name or a word where it is missing")
        }
        P::MissingSymbol(_) => {
            ("a sign is missing here".into(), "look for a comma, a bracket or a `;` left out")
        }
        P::UnknownOperator(sign) => (
            format!("`{sign}` is no sign of the language"),
            "the signs are those of sums: + - * / % **, and == != < > && ||",
        ),
        P::MalformedIndexExpr(_) => {
            ("what stands in `[ ]` is no place in a list".into(), "the first entry of a list is `list[0]`")
        }
        P::DuplicatedVariable(name) | P::VariableExists(name) => {
            (format!("`{name}` is given twice"), "give the second another name")
        }
        P::ForbiddenVariable(name) | P::Reserved(name) => {
            (format!("`{name}` is kept back by the language and not to be used"), "use another name")
        }
        P::MismatchedType(..) => {
            ("this is of another kind than is wanted here".into(), "look at where the value comes from")
        }
        P::WrongDocComment => (
            "a comment with `///` stands where nothing follows that it could explain".into(),
            "begin it with `//`",
        ),
        P::WrongFnDefinition => {
            ("a function cannot be made here".into(), "move `fn` to the left edge, outside of all `{ }`")
        }
        P::FnDuplicatedDefinition(name, _) => {
            (format!("the function `{name}` is made twice"), "give one of them another name")
        }
        P::FnMissingName => ("the function has no name".into(), "write it `fn shelf(height) { … }`"),
        P::FnMissingParams(name) => (
            format!("the function `{name}` has no brackets"),
            "write it `fn shelf(height) { … }`, or `fn shelf() { … }`",
        ),
        P::FnDuplicatedParam(name, twice) => {
            (format!("the function `{name}` takes `{twice}` twice"), "give one of the two another name")
        }
        P::FnMissingBody(name) => (
            format!("the function `{name}` does nothing"),
            "write what it does in `{ … }` after its brackets",
        ),
        P::WrongExport => (
            "`export` stands only at the left edge of a module".into(),
            "leave it out: functions of a module are seen as they are",
        ),
        P::AssignmentToConstant(name) => {
            (format!("`{name}` is a constant"), "make it with `let`, and it can be changed")
        }
        P::AssignmentToInvalidLHS(_) => (
            "nothing can be given to what stands left of `=`".into(),
            "a name stands there: `width = 900;`; to compare write `==`",
        ),
        P::LoopBreak => ("`break` and `continue` stand only in a loop".into(), "leave it out"),
        P::TooManyFunctions => {
            ("the script has too many functions".into(), "put some in a module of their own")
        }
        P::LiteralTooLarge(..) => {
            ("this is too large to be written at once".into(), "make it of several smaller ones")
        }
        P::WrongSwitchIntegerCase | P::WrongSwitchDefaultCase | P::WrongSwitchCaseCondition => (
            "the cases of this `switch` cannot stand so".into(),
            "write each as `value => what is done`, and `_ => …` last",
        ),
        _ => (
            "the script cannot be read here".into(),
            "look for a bracket, a comma or a quotation mark left out before this place",
        ),
    };
    (says, help)
}

/// The same of letters and numbers.
fn letters(error: &LexError) -> (String, &'static str) {
    match error {
        LexError::UnterminatedString => {
            ("the text in quotes has no end".into(), "close it with a quotation mark on the same line")
        }
        LexError::StringTooLong(_) => ("the text is too long".into(), "make it shorter"),
        LexError::MalformedEscapeSequence(_) => (
            "what follows `\\` in this text means nothing".into(),
            "write `\\\\` for the stroke itself, and `\\\"` for an inch mark",
        ),
        LexError::MalformedNumber(text) => {
            (format!("`{text}` is no number"), "write figures and one point: `12.5`")
        }
        LexError::MalformedChar(_) => {
            ("more than one letter stands in `' '`".into(), "put texts in double quotes: `\"mm\"`")
        }
        LexError::ImproperSymbol(name, _) if name.starts_with(char::is_alphabetic) => {
            (format!("`{name}` is kept back by the language and not to be used"), "use another name")
        }
        LexError::ImproperSymbol(sign, _) => {
            (format!("`{sign}` cannot stand here"), "look for a comma, a bracket or a `;` left out")
        }
        _ => (
            "a name cannot be written so".into(),
            "names are written with the letters a to z, digits and `_`; anything else goes in quotes",
        ),
    }
}
