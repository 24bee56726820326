//! Text that every calendar app takes: no controls, no stray line ends, nothing that could be
//! read as a line of the file itself.

/// Text in one line: line ends, tabs and runs of blanks become one blank.
#[must_use]
pub fn one_line(text: &str) -> String {
    let shown: String = text.chars().filter(|c| is_printable(*c)).collect();
    shown.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Text in lines joined with `\n`, each in order as by [`one_line`]; empty ones are left out.
#[must_use]
pub fn join_lines<S: AsRef<str>>(lines: impl IntoIterator<Item = S>) -> String {
    let lines: Vec<String> = lines
        .into_iter()
        .map(|line| one_line(line.as_ref()))
        .filter(|line| !line.is_empty())
        .collect();
    lines.join("\n")
}

/// A value of type TEXT as it is written (RFC 5545, 3.3.11).
#[must_use]
pub fn escape(text: &str) -> String {
    text.replace('\\', r"\\")
        .replace(',', r"\,")
        .replace(';', r"\;")
        .replace('\n', r"\n")
}

/// The text that [`escape`] wrote.
#[must_use]
pub fn unescape(written: &str) -> String {
    let mut text = String::with_capacity(written.len());
    let mut characters = written.chars();
    while let Some(c) = characters.next() {
        match c {
            '\\' => match characters.next() {
                Some('n' | 'N') => text.push('\n'),
                Some(other) => text.push(other),
                None => {}
            },
            c => text.push(c),
        }
    }
    text
}

/// Everything but control characters (which the standard forbids, and of which some readers end
/// a line at) and the signs that force the direction of the text around them; blanks of all kinds
/// are kept here. Text that runs from right to left needs no such signs.
fn is_printable(c: char) -> bool {
    let forces_direction = matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let byte_order_mark = c == '\u{feff}';
    (!c.is_control() || c.is_whitespace()) && !forces_direction && !byte_order_mark
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case("  Lantern\tCourt \r\n rooftop ", "Lantern Court rooftop")]
    #[case("a\u{0}b\u{7f}c\u{85}d\u{2028}e\u{feff}f", "abc d ef")]
    #[case("\u{202e}evil\u{202c} خس", "evil خس")]
    #[case("👩\u{200d}🌾 crew", "👩\u{200d}🌾 crew")]
    fn text_comes_in_one_clean_line(#[case] given: &str, #[case] clean: &str) {
        assert_eq!(one_line(given), clean);
    }

    #[test]
    fn lines_cannot_make_lines_of_their_own() {
        assert_eq!(
            join_lines(["one\r\nEND:VEVENT", "", " two"]),
            "one END:VEVENT\ntwo"
        );
    }

    /// RFC 5545, 3.3.11: backslash, semicolon, comma and line end are escaped; colon and quote
    /// are not.
    #[test]
    fn text_is_escaped_as_the_standard_says() {
        let text = "a\\b;c,d\ne:\"f\"";
        assert_eq!(escape(text), r#"a\\b\;c\,d\ne:"f""#);
        assert_eq!(unescape(&escape(text)), text);
    }
}
