//! The language round the words: names, choices, repeats, functions, modules, and the
//! functions of numbers.

use super::saying::Saying;

/// The language round the words: names, choices, repeats, functions, modules.
pub(in crate::script) const LANGUAGE: &[Saying] = &[
    Saying {
        name: "let",
        written: "let name = value;",
        says: "keeps a value, a part or a stock under a name",
        example: "let thick = 18;",
    },
    Saying {
        name: "if",
        written: "if condition { … } else { … }",
        says: "does the one thing or the other",
        example: "let thick = 18;\nlet depth = if thick > 15 { 6 } else { 4 };",
    },
    Saying {
        name: "for",
        written: "for name in list { … }",
        says: "does a thing for every entry of a list, or of a range such as 1..=3",
        example: "let heights = [];\nfor i in 1..=3 { heights += 300 * i; }",
    },
    Saying {
        name: "list",
        written: "[a, b, …]   list[0]   list.len()   list += value",
        says: "several values in order, the first at 0; words that take parts take a list of them",
        example: "let heights = [300, 420];\nheights += 600;\nlet highest = heights[heights.len() - 1];",
    },
    Saying {
        name: "map",
        written: "#{ name: value, … }   map.name",
        says: "values by name, as options are given and furniture types give their parts",
        example: "let shop = #{ kerf: 3.2, planing: 3 };\nlet sawn = 27 - shop.planing;",
    },
    Saying {
        name: "fn",
        written: "fn name(arguments) { … }",
        says: "makes a word of your own; the last line in it is what it gives",
        example: "fn clear(width, thick) { width - 2 * thick }\nlet inside = clear(900, 18);",
    },
    Saying {
        name: "import",
        written: "import \"module\" as name;",
        says: "brings in a furniture type of the library, or a script beside your own, by its name without `.rhai`",
        example: "import \"case\" as case;",
    },
    Saying {
        name: "print",
        written: "print(value)",
        says: "says a value when the script is run, to see what was worked out",
        example: "print(5/8 + 18);",
    },
];

/// Functions of numbers.
pub(in crate::script) const NUMBERS: &[Saying] = &[
    Saying {
        name: "arithmetic",
        written: "a + b   a - b   a * b   a / b   a % b   a ** b",
        says: "sums of numbers; 5/8 is 0.625, % is what a division leaves over and ** a power",
        example: "let pitch = (900 - 3 * 18) / 2;",
    },
    number("floor", "floor(number)", "the whole number below", "let tenons = floor(450 / 120);"),
    number("ceiling", "ceiling(number)", "the whole number above", "let slats = ceiling(900 / 70);"),
    number("round", "round(number)", "the nearest whole number", "let pitch = round(450 / 7);"),
    number("abs", "abs(number)", "the number without its sign", "let apart = abs(300 - 420);"),
    number("sqrt", "sqrt(number)", "the square root", "let diagonal = sqrt(300 ** 2 + 400 ** 2);"),
    number("sin", "sin(degrees)", "the sine of an angle", "let rise = 400 * sin(15);"),
    number("cos", "cos(degrees)", "the cosine of an angle", "let run = 400 * cos(15);"),
    number("tan", "tan(degrees)", "the tangent of an angle", "let splay = 400 * tan(5);"),
    number("asin", "asin(number)", "the angle in degrees that has this sine", "let slope = asin(90 / 400);"),
    number(
        "acos",
        "acos(number)",
        "the angle in degrees that has this cosine",
        "let slope = acos(380 / 400);",
    ),
    number("atan", "atan(number)", "the angle in degrees that has this tangent", "let slope = atan(1 / 8);"),
    number("min", "min(a, b)", "the lesser of two numbers", "let depth = min(18 / 3, 10);"),
    number("max", "max(a, b)", "the greater of two numbers", "let depth = max(18 / 3, 4);"),
];

/// A function of numbers.
const fn number(
    name: &'static str,
    written: &'static str,
    message: &'static str,
    example: &'static str,
) -> Saying {
    Saying { name, written, says: message, example }
}
