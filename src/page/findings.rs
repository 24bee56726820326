//! What was found about the rig, and the cautions.

use crate::garden::Garden;
use crate::messages;
use crate::messages::words::Texts;
use crate::plumbing::commissioning;
use crate::plumbing::finding::Verdict;
use crate::summary;
use crate::summary::figures::PlanSummary;

/// A caution with the word that it begins with.
#[derive(Debug)]
pub(super) struct PageCaution {
    pub(super) head: String,
    pub(super) text: String,
}

/// What falls short, does not fit or should be looked at, a sentence or two each.
pub(super) fn findings(summary: &PlanSummary, garden: &Garden, words: &Texts) -> Vec<String> {
    let misfits = summary.does_not_fit.iter();
    let rig = commissioning::commissioning_report(garden);
    let plumbing = rig.loops.iter().flat_map(|l| {
        let findings = l.findings.iter().filter(|f| f.verdict != Verdict::Ok);
        findings.map(|f| format!("{}: {}", l.r#loop, messages::rig::finding(f, l, words)))
    });
    messages::shortages::shortages(summary, words)
        .into_iter()
        .chain(misfits.map(|misfit| messages::infeasible::infeasibility(misfit, garden, words)))
        .chain(plumbing)
        .collect()
}

/// The garden's cautions.
pub(super) fn cautions(garden: &Garden) -> Vec<PageCaution> {
    summary::cautions::cautions(garden)
        .into_iter()
        .map(|caution| match caution.split_once(": ") {
            Some((head, text)) if head.len() < 40 => PageCaution {
                head: format!("{head}:"),
                text: text.to_owned(),
            },
            _ => PageCaution {
                head: String::new(),
                text: caution,
            },
        })
        .collect()
}
