//! Text in columns on lines of a set width.

/// Most characters of a line.
pub(in crate::cli) const WIDTH: usize = 100;

/// Blanks between columns.
const GAP: usize = 2;

/// Columns narrower than this are never wrapped, and none is wrapped to less.
const LEAST: usize = 18;

/// Adds words formed in place at the end of a text.
pub(in crate::cli) fn add(text: &mut String, words: std::fmt::Arguments<'_>) {
    // Writing to a text in memory cannot fail.
    let _always_fits = std::fmt::Write::write_fmt(text, words);
}

/// `text` on lines of at most `width` characters, broken between words but not
/// between a number and its unit; a word that is longer keeps a line to itself.
pub(in crate::cli) fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut used = 0;
    let whole = text.replace(" mm", "\u{a0}mm");
    for word in whole.split([' ', '\n']).filter(|word| !word.is_empty()) {
        let word = word.replace('\u{a0}', " ");
        let long = word.chars().count();
        if used > 0 && used + 1 + long > width {
            lines.push(String::new());
            used = 0;
        }
        if let Some(line) = lines.last_mut() {
            if used > 0 {
                line.push(' ');
                used += 1;
            }
            line.push_str(&word);
            used += long;
        }
    }
    lines
}

/// `text` on lines that begin with `indent` blanks.
pub(in crate::cli) fn paragraph(text: &str, indent: usize) -> String {
    let lines = wrap(text, WIDTH - indent);
    let mut text = String::new();
    for line in &lines {
        add(&mut text, format_args!("{:indent$}{line}\n", ""));
    }
    text
}

/// Rows of cells in columns, each line begun with `indent` blanks. A column in
/// which no row after the first has anything is left out. All rows have as many
/// cells as the first, which is the heading.
pub(in crate::cli) fn grid(rows: &[Vec<&str>], indent: usize) -> String {
    let Some((head, body)) = rows.split_first() else { return String::new() };
    let kept: Vec<usize> =
        (0..head.len()).filter(|c| body.iter().any(|r| r.get(*c).is_some_and(|t| !t.is_empty()))).collect();
    let cells = |row: &Vec<&str>| -> Vec<String> {
        kept.iter().map(|c| row.get(*c).copied().unwrap_or_default().to_owned()).collect()
    };
    let rows: Vec<Vec<String>> = rows.iter().map(cells).collect();
    let widths = widths(&rows, WIDTH - indent);
    rows.iter().map(|row| laid_out(row, &widths, indent)).collect()
}

/// One row, on as many lines as its tallest cell needs.
fn laid_out(row: &[String], widths: &[usize], indent: usize) -> String {
    let cells: Vec<Vec<String>> = row.iter().zip(widths).map(|(text, w)| wrap(text, *w)).collect();
    let tall = cells.iter().map(Vec::len).max().unwrap_or(0);
    let mut text = String::new();
    for i in 0..tall {
        let mut line = " ".repeat(indent);
        for (cell, width) in cells.iter().zip(widths) {
            let words = cell.get(i).map_or("", String::as_str);
            add(&mut line, format_args!("{words:<w$}", w = width + GAP));
        }
        text += line.trim_end();
        text.push('\n');
    }
    text
}

/// Widths of the columns: as wide as their text where that fits, else the wide
/// ones share what the narrow ones leave, by how much text they hold.
fn widths(rows: &[Vec<String>], room: usize) -> Vec<usize> {
    let columns = rows.first().map_or(0, Vec::len);
    let long = |c: usize| rows.iter().filter_map(move |r| r.get(c)).map(|t| t.chars().count());
    let natural: Vec<usize> = (0..columns).map(|c| long(c).max().unwrap_or(0)).collect();
    let room = room.saturating_sub(GAP * columns.saturating_sub(1));
    if natural.iter().sum::<usize>() <= room {
        return natural;
    }
    let narrow: usize = natural.iter().filter(|w| **w <= LEAST).sum();
    let wide: usize = natural.iter().filter(|w| **w > LEAST).sum();
    let left = room.saturating_sub(narrow);
    let spread = |w: usize| (left * w / wide.max(1)).clamp(LEAST, w);
    let mut widths: Vec<usize> = natural.iter().map(|w| if *w <= LEAST { *w } else { spread(*w) }).collect();
    // What the least widths took too much, the widest column gives back.
    let over = widths.iter().sum::<usize>().saturating_sub(room);
    if let Some(widest) = widths.iter_mut().max() {
        *widest = widest.saturating_sub(over).max(LEAST);
    }
    widths
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_broken_between_words() {
        assert_eq!(wrap("one two three", 7), ["one two", "three"]);
        assert_eq!(wrap("one unbreakable", 4), ["one", "unbreakable"]);
        assert_eq!(wrap("at most 10 mm", 10), ["at most", "10 mm"]);
        assert_eq!(wrap("", 4), [""]);
    }

    #[test]
    fn columns_share_the_room() {
        let rows = [vec!["name", "none", "what"], vec!["a", "", "short"], vec!["bb", "", "longer"]];
        assert_eq!(grid(&rows, 1), " name  what\n a     short\n bb    longer\n");
        let long = "word ".repeat(40);
        let wide = grid(&[vec!["a", "b"], vec![&long, &long]], 2);
        assert!(wide.lines().all(|line| line.chars().count() <= WIDTH), "{wide}");
        assert_eq!(wide.matches("word").count(), 80);
    }
}
