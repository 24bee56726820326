//! What does not fit, in a sentence.

use crate::garden::Garden;
use crate::garden::crop::Crop;
use crate::messages::words::Words;
use crate::planner::build::WhyNotKept;
use crate::summary::infeasible::{Misfit, SolutionPart};
use crate::summary::season::Reason;
use crate::units::Length;

/// What does not fit, in a sentence.
pub(crate) fn misfit(misfit: &Misfit, garden: &Garden, words: &Words) -> String {
    let length = |metres| Length::metres(metres).in_units(words.units());
    match misfit {
        Misfit::TooTall {
            crop,
            height,
            bank,
            headroom,
            holes,
            of,
        } => {
            let which = if holes == of {
                words.say("told-too-tall-all", [])
            } else {
                words.say(
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
            words.say("told-too-tall", values)
        }
        Misfit::NeverInSeason { crop, bank, why } => {
            let why = why_never(why, words);
            let values = [
                ("crop", crop.as_str().into()),
                ("bank", bank.as_str().into()),
                ("why", why.into()),
            ];
            words.say("told-never", values)
        }
        Misfit::NothingFor { want } => {
            words.say("told-nothing-for", [("want", want.as_str().into())])
        }
        Misfit::SolutionsDiffer { crops: (a, b), by } => {
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
            words.say("told-solutions-differ", values)
        }
        Misfit::NotKept(plant) => {
            let until = words.day(plant.until);
            let why = match plant.why {
                WhyNotKept::Blocked => words.say("told-not-kept-blocked", []),
                WhyNotKept::HoleTaken => {
                    words.say("told-not-kept-taken", [("until", until.into())])
                }
                WhyNotKept::NoSeedling => {
                    words.say("told-not-kept-no-seedling", [("until", until.into())])
                }
            };
            let values = [
                ("crop", plant.crop.as_str().into()),
                ("hole", plant.hole.as_str().into()),
                ("why", why.into()),
            ];
            words.say("told-not-kept", values)
        }
    }
}

/// What a crop asks of a solution.
fn band(crop: &Crop, part: SolutionPart, words: &Words) -> String {
    let solution = &crop.solution;
    let (key, least, most) = match part {
        SolutionPart::Ec => ("told-ec", solution.ec.0.get(), solution.ec.1.get()),
        SolutionPart::Ph => ("told-ph", solution.ph.0, solution.ph.1),
    };
    let values = [
        ("least", least.to_string().into()),
        ("most", most.to_string().into()),
    ];
    words.say(key, values)
}

fn why_never(why: &[Reason], words: &Words) -> String {
    match why {
        [] => words.say("told-never-seedlings", []),
        [one] => words.say(only_reason(*one), []),
        several => {
            let reasons = several
                .iter()
                .map(|why| words.say(one_of_reasons(*why), []));
            let reasons: Vec<String> = reasons.collect();
            let reasons = words.language().list(&reasons);
            words.say("told-never-several", [("reasons", reasons.into())])
        }
    }
}

const fn only_reason(why: Reason) -> &'static str {
    match why {
        Reason::TooCold => "told-never-cold",
        Reason::TooHot => "told-never-hot",
        Reason::Bolts => "told-never-bolts",
        Reason::TooDark => "told-never-dark",
        Reason::NotInTime => "told-never-in-time",
        Reason::NobodyThere => "told-never-nobody",
    }
}

const fn one_of_reasons(why: Reason) -> &'static str {
    match why {
        Reason::TooCold => "told-reason-cold",
        Reason::TooHot => "told-reason-hot",
        Reason::Bolts => "told-reason-bolts",
        Reason::TooDark => "told-reason-dark",
        Reason::NotInTime => "told-reason-in-time",
        Reason::NobodyThere => "told-reason-nobody",
    }
}
