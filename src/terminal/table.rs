//! Text in columns, and text folded to a width.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// To which side of its column a cell keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// Rows set in columns as wide as their widest cell, two spaces apart. A row may have fewer
/// cells than there are sides.
pub fn align_columns(sides: &[Align], rows: &[Vec<String>]) -> String {
    let widths: Vec<usize> = (0..sides.len())
        .map(|at| {
            let cells = rows.iter().filter_map(|row| row.get(at));
            cells.map(|cell| width(cell)).max().unwrap_or(0)
        })
        .collect();
    rows.iter()
        .map(|row| {
            let cells: Vec<String> = row
                .iter()
                .zip(sides.iter().zip(&widths))
                .map(|(cell, (side, &to))| pad(cell, *side, to))
                .collect();
            format!("{}\n", cells.join("  ").trim_end())
        })
        .collect()
}

/// A cell filled up with spaces to a width.
pub fn pad(cell: &str, side: Align, to: usize) -> String {
    let fill = " ".repeat(to.saturating_sub(width(cell)));
    match side {
        Align::Left => format!("{cell}{fill}"),
        Align::Right => format!("{fill}{cell}"),
    }
}

/// A line cut to at most `to` columns, with a mark where it was.
pub fn truncate(line: &str, to: usize) -> String {
    if width(line) <= to {
        return line.to_owned();
    }
    let mut kept = String::new();
    for letter in line.chars() {
        if width(&kept) + 1 + letter.width().unwrap_or(0) > to {
            break;
        }
        kept.push(letter);
    }
    format!("{}…", kept.trim_end())
}

/// Columns that a text takes, ANSI codes not counted.
pub fn width(text: &str) -> usize {
    UnicodeWidthStr::width(anstream::adapter::strip_str(text).to_string().as_str())
}

/// Words in lines of at most `to` columns: the first behind `first`, the others behind `rest`.
/// A number stays on the line of the unit behind it.
pub fn wrap(first: &str, rest: &str, text: &str, to: usize) -> String {
    let mut done = String::new();
    let mut line = first.to_owned();
    let mut is_fresh = true;
    for word in &words_with_units(text) {
        if !is_fresh && width(&line) + 1 + width(word) > to {
            done.push_str(line.trim_end());
            done.push('\n');
            rest.clone_into(&mut line);
            is_fresh = true;
        }
        if !is_fresh {
            line.push(' ');
        }
        line.push_str(word);
        is_fresh = false;
    }
    done.push_str(line.trim_end());
    done.push('\n');
    done
}

/// A text whose lines are folded where they are longer than `to` columns, under their own
/// beginnings; words longer than that are cut into pieces.
pub fn wrap_lines(text: &str, to: usize) -> String {
    text.lines()
        .map(|line| {
            if width(line) <= to {
                return format!("{line}\n");
            }
            let words = line.trim_start();
            let indent = " ".repeat((line.len() - words.len()).min(to / 4));
            let room = to.saturating_sub(indent.len() + 2).max(8);
            let words: Vec<String> = words
                .split_whitespace()
                .map(|w| split_wide_word(w, room))
                .collect();
            wrap(&indent, &format!("{indent}  "), &words.join(" "), to)
        })
        .collect()
}

/// A word with spaces in it, so that no piece takes more than `to` columns.
fn split_wide_word(word: &str, to: usize) -> String {
    if width(word) <= to {
        return word.to_owned();
    }
    let letters: Vec<char> = word.chars().collect();
    let pieces: Vec<String> = letters.chunks(to).map(|p| p.iter().collect()).collect();
    pieces.join(" ")
}

/// The words of a text, numbers joined with the unit (or noun) that follows.
fn words_with_units(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut after_number = false;
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(last) if after_number && !word.starts_with('(') => {
                *last = format!("{last} {word}")
            }
            _ => words.push(word.to_owned()),
        }
        after_number = word.trim_start_matches('(').parse::<f64>().is_ok();
    }
    words
}
