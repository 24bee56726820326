//! What does not fit, in a sentence.

use crate::garden::Garden;
use crate::garden::crop::Crop;
use crate::messages::words::Texts;
use crate::planner::build::NotKeptReason;
use crate::summary::infeasible::{Infeasibility, SolutionPart};
use crate::summary::season::FailureReason;
use crate::units::Length;

/// What does not fit, in a sentence.
pub(crate) fn infeasibility(misfit: &Infeasibility, garden: &Garden, words: &Texts) -> String {
    let length = |metres| Length::metres(metres).in_units(words.units());
    match misfit {
        Infeasibility::TooTall {
            crop,
            height,
            bank,
            headroom,
            holes,
            of,
        } => {
            let which = if holes == of {
                words.translate("told-too-tall-all", [])
            } else {
                words.translate(
                    "told-too-tall-some",
                    [("n", (*holes).into()), ("of", (*of).into())],
                )
            };
            let values = [
                ("crop", crop.as_str().into()),
                ("bank", bank.as_str().into()),
                ("height", length(*height).into()),
                ("headroom", length(*headroom).into()),
                ("which", which.into()),
            ];
            words.translate("told-too-tall", values)
        }
        Infeasibility::NeverInSeason { crop, bank, why } => {
            let why = never_ripens(why, words);
            let values = [
                ("crop", crop.as_str().into()),
                ("bank", bank.as_str().into()),
                ("why", why.into()),
            ];
            words.translate("told-never", values)
        }
        Infeasibility::NothingFor { want } => {
            words.translate("told-nothing-for", [("want", want.as_str().into())])
        }
        Infeasibility::SolutionsDiffer { crops: (a, b), by } => {
            let differ = by.iter().filter_map(|&part| {
                let bands = [garden.crop(a)?, garden.crop(b)?];
                let bands = bands.map(|crop| band(crop, part, words));
                Some(words.language().list(&bands))
            });
            let differ: Vec<String> = differ.collect();
            let values = [
                ("a", a.as_str().into()),
                ("b", b.as_str().into()),
                ("bands", words.language().list(&differ).into()),
            ];
            words.translate("told-solutions-differ", values)
        }
        Infeasibility::NotKept(plant) => {
            let until = words.day(plant.until);
            let why = match plant.why {
                NotKeptReason::Blocked => words.translate("told-not-kept-blocked", []),
                NotKeptReason::HoleTaken => {
                    words.translate("told-not-kept-taken", [("until", until.into())])
                }
                NotKeptReason::NoSeedling => {
                    words.translate("told-not-kept-no-seedling", [("until", until.into())])
                }
            };
            let values = [
                ("crop", plant.crop.as_str().into()),
                ("hole", plant.hole.as_str().into()),
                ("why", why.into()),
            ];
            words.translate("told-not-kept", values)
        }
    }
}

/// What a crop asks of a solution.
fn band(crop: &Crop, part: SolutionPart, words: &Texts) -> String {
    let solution = &crop.solution;
    let (key, least, most) = match part {
        SolutionPart::Ec => ("told-ec", solution.ec.0.get(), solution.ec.1.get()),
        SolutionPart::Ph => ("told-ph", solution.ph.0, solution.ph.1),
    };
    let values = [
        ("least", least.to_string().into()),
        ("most", most.to_string().into()),
    ];
    words.translate(key, values)
}

fn never_ripens(why: &[FailureReason], words: &Texts) -> String {
    match why {
        [] => words.translate("told-never-seedlings", []),
        [one] => words.translate(only_reason(*one), []),
        several => {
            let reasons = several
                .iter()
                .map(|why| words.translate(one_of_reasons(*why), []));
            let reasons: Vec<String> = reasons.collect();
            let reasons = words.language().list(&reasons);
            words.translate("told-never-several", [("reasons", reasons.into())])
        }
    }
}

const fn only_reason(why: FailureReason) -> &'static str {
    match why {
        FailureReason::TooCold => "told-never-cold",
        FailureReason::TooHot => "told-never-hot",
        FailureReason::Bolts => "told-never-bolts",
        FailureReason::TooDark => "told-never-dark",
        FailureReason::NotInTime => "told-never-in-time",
        FailureReason::NobodyThere => "told-never-nobody",
    }
}

const fn one_of_reasons(why: FailureReason) -> &'static str {
    match why {
        FailureReason::TooCold => "told-reason-cold",
        FailureReason::TooHot => "told-reason-hot",
        FailureReason::Bolts => "told-reason-bolts",
        FailureReason::TooDark => "told-reason-dark",
        FailureReason::NotInTime => "told-reason-in-time",
        FailureReason::NobodyThere => "told-reason-nobody",
    }
}
