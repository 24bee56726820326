//! Short letters for crops, for drawings in which a name has no room.

use std::collections::BTreeSet;

/// A code for each crop key, in the keys' order: two letters where that tells them apart, three
/// where it must be, each beginning with the crop's own first letter.
///
/// Each key's code depends on the keys before it only, so give them in a lasting order.
#[must_use]
pub fn crop_codes<'a>(keys: impl IntoIterator<Item = &'a str>) -> Vec<(&'a str, String)> {
    let mut taken = BTreeSet::new();
    keys.into_iter()
        .map(|key| {
            let code = code_candidates(key)
                .find(|code| !taken.contains(code))
                .expect("there are always more candidates");
            taken.insert(code.clone());
            (key, code)
        })
        .collect()
}

/// First letter and a second in reading order, then first letter and two more, then numbers.
fn code_candidates(key: &str) -> impl Iterator<Item = String> {
    let letters: Vec<char> = key.chars().filter(|c| c.is_alphanumeric()).collect();
    let first: String = letters
        .iter()
        .take(1)
        .flat_map(|c| c.to_uppercase())
        .collect();
    let rest: Vec<char> = letters.into_iter().skip(1).collect();
    let (head, tail) = (first.clone(), rest.clone());
    let pairs: Vec<String> = rest.iter().map(|c| format!("{first}{c}")).collect();
    let triples = (0..tail.len()).flat_map(move |i| {
        let (head, tail) = (head.clone(), tail.clone());
        (i + 1..tail.len()).map(move |j| format!("{head}{}{}", tail[i], tail[j]))
    });
    pairs
        .into_iter()
        .chain(triples)
        .chain((1..).map(move |n| format!("{first}{n}")))
}
