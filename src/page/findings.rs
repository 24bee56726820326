//! What was found about the rig, and the cautions.

use crate::garden::Garden;
use crate::messages;
use crate::messages::words::Words;
use crate::plumbing::finding::Verdict;
use crate::plumbing::sheet;
use crate::summary::cautions::cautions;
use crate::summary::figures::Summary;

/// A caution with the word that it begins with.
#[derive(Debug)]
pub(super) struct Caution {
    pub(super) head: String,
    pub(super) text: String,
}

/// What falls short, does not fit or should be looked at, a sentence or two each.
pub(super) fn findings(summary: &Summary, garden: &Garden, words: &Words) -> Vec<String> {
    let misfits = summary.does_not_fit.iter();
    let rig = sheet::sheet(garden);
    let plumbing = rig.loops.iter().flat_map(|l| {
        let findings = l.findings.iter().filter(|f| f.verdict != Verdict::Fine);
        findings.map(|f| format!("{}: {}", l.r#loop, messages::rig::finding(f, l, words)))
    });
    messages::shortages::shortages(summary, words)
        .into_iter()
        .chain(misfits.map(|misfit| messages::misfits::misfit(misfit, garden, words)))
        .chain(plumbing)
        .collect()
}

/// The garden's cautions.
pub(super) fn told_cautions(garden: &Garden) -> Vec<Caution> {
    cautions(garden)
        .into_iter()
        .map(|caution| match caution.split_once(": ") {
            Some((head, text)) if head.len() < 40 => Caution {
                head: format!("{head}:"),
                text: text.to_owned(),
            },
            _ => Caution {
                head: String::new(),
                text: caution,
            },
        })
        .collect()
}
