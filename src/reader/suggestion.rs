//! Small helps for messages: the nearest known word, and lists as people write them.

/// How alike two words must be before one is offered for the other: above this, slips of the
/// finger and swapped letters; below it, different words.
const MIN_SIMILARITY: f64 = 0.75;

/// The known word nearest to the one written, if any is near enough to have been meant.
pub(crate) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let plain = fold_accents(word);
    known
        .into_iter()
        .map(|k| (strsim::jaro_winkler(&plain, &self::fold_accents(k)), k))
        .filter(|(likeness, _)| *likeness >= MIN_SIMILARITY)
        .max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| b.1.cmp(a.1)))
        .map(|(_, k)| k)
}

/// Capitals, blanks and dashes are no difference between words.
pub(crate) fn fold_accents(word: &str) -> String {
    word.to_lowercase().replace([' ', '-'], "_")
}

/// Whether two words are the same but for capitals and accents.
pub(crate) fn is_same_word(one: &str, other: &str) -> bool {
    let bare = |word: &str| -> String {
        let letters = word.chars().flat_map(char::to_lowercase);
        // An accent may also be a sign of its own, after its letter.
        letters
            .filter(|c| !('\u{300}'..='\u{36f}').contains(c))
            .map(without_accent)
            .collect()
    };
    bare(one) == bare(other)
}

const fn without_accent(letter: char) -> char {
    match letter {
        'á' | 'à' | 'â' | 'ä' | 'ã' => 'a',
        'é' | 'è' | 'ê' | 'ë' => 'e',
        'í' | 'ì' | 'î' | 'ï' => 'i',
        'ó' | 'ò' | 'ô' | 'ö' | 'õ' => 'o',
        'ú' | 'ù' | 'û' | 'ü' => 'u',
        'ç' => 'c',
        'ñ' => 'n',
        _ => letter,
    }
}

/// `a`, `b` or `c`, each in back-ticks.
pub(crate) fn list_with_or<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    join_list(words, "or")
}

/// `a`, `b` and `c`, each in back-ticks.
pub(crate) fn list_with_and<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    join_list(words, "and")
}

fn join_list<'a>(words: impl IntoIterator<Item = &'a str>, before_last: &str) -> String {
    let words: Vec<String> = words.into_iter().map(|w| format!("`{w}`")).collect();
    match words.as_slice() {
        [] => String::new(),
        [only] => only.clone(),
        [most @ .., last] => format!("{} {before_last} {last}", most.join(", ")),
    }
}

/// A text as it is put into a message: short, on one line.
pub(crate) fn shorten(text: &str) -> String {
    const MOST: usize = 50;
    let text = text.trim().replace(char::is_control, " ");
    if text.chars().count() <= MOST {
        return text;
    }
    let cut: String = text.chars().take(MOST - 3).collect();
    format!("{}...", cut.trim_end())
}
