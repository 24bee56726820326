//! What a grower types beside the rig, understood.

use chrono::NaiveDate;

use crate::diary::entry::Event;
use crate::diary::limits;
use crate::diary::state::{DiaryState, ImpossibleEvent};
use crate::garden::Garden;
use crate::reader::suggestion::nearest;
use crate::units::{Amount, Conductivity, Volume};

/// Words that were not understood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct InvalidRequest(String);

fn invalid<T>(text: String) -> Result<T, InvalidRequest> {
    Err(InvalidRequest(text))
}

/// What a grower says of a day's work, in words as typed. It is the command line of `record`, too.
/// Several holes are joined by commas: `deck-2-3,deck-2-5`.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "cli", derive(clap::Subcommand))]
pub enum RecordRequest {
    /// Seed went into cells of the nursery: `sown butterhead 12`
    Sown {
        /// The crop's key
        crop: String,
        /// How many cells
        #[cfg_attr(feature = "cli", arg(value_parser = clap::value_parser!(u32).range(1..)))]
        cells: u32,
    },
    /// Seedlings went into holes: `transplanted deck-2-3 butterhead`
    Transplanted {
        /// The hole
        hole: String,
        /// The crop's key
        crop: String,
        /// They were given or bought as plants, and are none of the nursery's seedlings
        #[cfg_attr(feature = "cli", arg(long))]
        given: bool,
        /// The day on which what was given was sown, if that is known
        #[cfg_attr(
            feature = "cli",
            arg(long, value_name = "DATE", value_parser = crate::week::parse_date, requires = "given")
        )]
        sown: Option<NaiveDate>,
    },
    /// Plants died: `lost deck-2-3 wilt`; seedlings did: `lost butterhead 3 mould`
    Lost {
        /// The hole, or the crop of the seedlings
        what: String,
        /// How many seedlings, and of what
        words: Vec<String>,
        /// The day on which the seedlings were sown, where several sowings are in the nursery
        #[cfg_attr(
            feature = "cli",
            arg(long, value_name = "DATE", value_parser = crate::week::parse_date)
        )]
        sown: Option<NaiveDate>,
    },
    /// Something was harvested: `harvested deck-1-1 160 g`
    ///
    /// The plant is taken to have come out where the plan has that as its last harvest.
    Harvested {
        /// The hole
        hole: String,
        /// How much, of all the holes together
        amount: Vec<String>,
        /// The plant came out with it, though more could have been cut or picked
        #[cfg_attr(feature = "cli", arg(long))]
        last: bool,
        /// The plant still stands, though the plan has this as its last harvest
        #[cfg_attr(feature = "cli", arg(long, conflicts_with = "last"))]
        stands: bool,
    },
    /// Plants were taken out without a harvest: `cleared deck-2-3`
    Cleared {
        /// The hole
        hole: String,
    },
    /// Water went into a tank: `topped-up roof 14 l`, or `topped-up roof 14 l full`
    ///
    /// The tank is taken to hold so much more than was reckoned before, and no more than it can;
    /// with `full` after the amount it is taken as full. A top-up of the plan's that is not put
    /// down is taken as done as planned, unless others were put down within three days of it and
    /// that day's work was not.
    ToppedUp {
        /// The loop
        r#loop: String,
        /// How much; then `full` if the tank was full after it
        #[cfg_attr(feature = "cli", arg(required = true))]
        amount: Vec<String>,
    },
    /// A tank was emptied and filled with fresh solution: `refilled roof`
    Refilled {
        /// The loop
        r#loop: String,
    },
    /// The solution was measured: `read roof ec 1.6 ph 6.1`
    Read {
        /// The loop
        r#loop: String,
        /// EC, pH or both
        #[cfg_attr(feature = "cli", arg(required = true))]
        values: Vec<String>,
    },
    /// A hole cannot be used: `blocked deck-4-6`
    Blocked {
        /// The hole
        hole: String,
    },
    /// It can be used again: `unblocked deck-4-6`
    Unblocked {
        /// The hole
        hole: String,
    },
    /// A tube was emptied and scrubbed: `cleaned deck-1`
    Cleaned {
        /// The tube
        tube: String,
    },
}

impl RecordRequest {
    /// The same with crops by their keys, where they are written as the garden calls them.
    #[must_use]
    pub fn with_crop_keys(&self, garden: &Garden) -> Self {
        let mut said = self.clone();
        if let Self::Sown { crop, .. }
        | Self::Transplanted { crop, .. }
        | Self::Lost { what: crop, .. } = &mut said
            && let Some(known) = garden.crop_by_name(crop)
        {
            crop.clone_from(&known.key);
        }
        said
    }

    /// What is meant, given how things stand.
    ///
    /// # Errors
    /// If the words cannot be understood.
    pub fn resolve(&self, state: &DiaryState) -> Result<Vec<Event>, InvalidRequest> {
        let each = |holes: &str, event: fn(String) -> Event| split_list(holes).map(event).collect();
        Ok(match self {
            Self::Sown { crop, cells } => vec![Event::Sown {
                crop: crop.clone(),
                cells: *cells,
                cups: None,
            }],
            Self::Transplanted {
                hole,
                crop,
                given,
                sown,
            } => transplanted_events(hole, crop, *sown, *given),
            Self::Lost { what, words, sown } => lost_events(what, words, *sown, state)?,
            Self::Harvested {
                hole, amount, last, ..
            } => harvested_events(hole, parse_amount(amount)?, *last),
            Self::ToppedUp { r#loop, amount } => {
                let (amount, full) = parse_water(amount)?;
                vec![Event::ToppedUp {
                    r#loop: r#loop.clone(),
                    amount,
                    full,
                }]
            }
            Self::Read { r#loop, values } => {
                let (ec, ph) = parse_readings(values)?;
                vec![Event::Read {
                    r#loop: r#loop.clone(),
                    ec,
                    ph,
                }]
            }
            Self::Refilled { r#loop } => each(r#loop, |r#loop| Event::Refilled { r#loop }),
            Self::Cleared { hole } => each(hole, |hole| Event::Cleared { hole }),
            Self::Blocked { hole } => each(hole, |hole| Event::Blocked { hole }),
            Self::Unblocked { hole } => each(hole, |hole| Event::Unblocked { hole }),
            Self::Cleaned { tube } => each(tube, |tube| Event::Cleaned { tube }),
        })
    }
}

fn split_list(names: &str) -> impl Iterator<Item = String> {
    let names = names.split(',').map(str::trim).filter(|n| !n.is_empty());
    names.map(str::to_owned)
}

fn transplanted_events(
    holes: &str,
    crop: &str,
    sown_on: Option<NaiveDate>,
    given: bool,
) -> Vec<Event> {
    split_list(holes)
        .map(|hole| Event::Transplanted {
            crop: crop.to_owned(),
            hole,
            sown_on,
            want: None,
            given,
        })
        .collect()
}

fn lost_events(
    what: &str,
    words: &[String],
    sown_on: Option<NaiveDate>,
    state: &DiaryState,
) -> Result<Vec<Event>, InvalidRequest> {
    let said = |words: &[String]| (!words.is_empty()).then(|| words.join(" "));
    let count = words.first().and_then(|w| w.parse::<u32>().ok());
    if state.has_crop(what) {
        let Some(cells) = count.filter(|&cells| cells > 0) else {
            return invalid(format!(
                "say how many seedlings were lost, such as `lost {what} 3`"
            ));
        };
        return Ok(vec![Event::SeedlingsLost {
            crop: what.to_owned(),
            cells,
            sown_on,
            why: said(&words[1..]),
        }]);
    }
    if sown_on.is_some() {
        return invalid(format!(
            "`--sown` is for seedlings in the nursery, such as `lost butterhead 3`; `{what}` is no \
             crop of this garden"
        ));
    }
    split_list(what)
        .map(|hole| {
            if state.has_hole(&hole) {
                let why = said(words);
                Ok(Event::Lost { hole, why })
            } else {
                let unknown: ImpossibleEvent = state.unknown_hole_or_crop(&hole);
                invalid(unknown.to_string())
            }
        })
        .collect()
}

/// What holes gave together, shared out evenly.
fn harvested_events(holes: &str, amount: Option<Amount>, last: bool) -> Vec<Event> {
    let holes: Vec<String> = split_list(holes).collect();
    let share = |n: u64| {
        amount.map(|all| {
            let count = holes.len().max(1) as u64;
            let rest = u64::from(n < all.milli() % count);
            Amount::new(all.measure(), all.milli() / count + rest)
        })
    };
    let events = holes.iter().zip(0..).map(|(hole, n)| Event::Harvested {
        hole: hole.clone(),
        amount: share(n),
        last,
        expected: None,
    });
    events.collect()
}

/// An amount in one or several words: `160 g`, `1 head`, `6 oz`; nothing where there are none.
///
/// # Errors
/// If it is no amount.
fn parse_amount(words: &[String]) -> Result<Option<Amount>, InvalidRequest> {
    if words.is_empty() {
        return Ok(None);
    }
    let text = words.join(" ");
    text.parse().map(Some).map_err(|_| {
        InvalidRequest(format!(
            "`{text}` is not an amount; write it like `160 g` or `1 head`"
        ))
    })
}

/// Water put into a tank, and whether it was full then: `14 l`, `14 l full`.
///
/// # Errors
/// If it is no amount of water.
fn parse_water(words: &[String]) -> Result<(Volume, bool), InvalidRequest> {
    let (words, full) = match words {
        [amount @ .., last] if last.eq_ignore_ascii_case("full") => (amount, true),
        _ => (words, false),
    };
    let text = words.join(" ");
    let read = text.parse::<Volume>().ok().filter(|v| v.get() > 0.0);
    let amount = read.ok_or_else(|| {
        InvalidRequest(format!(
            "`{text}` is not an amount of water; write it like `14 l`, or `14 l full` where the \
             tank was full then"
        ))
    })?;
    limits::check_water(amount).map_err(InvalidRequest)?;
    Ok((amount, full))
}

/// Readings in words: `ec 1.6 ph 6.1`, either alone, in any order. EC without a unit is in mS/cm.
///
/// # Errors
/// If they are no readings.
fn parse_readings(words: &[String]) -> Result<(Option<Conductivity>, Option<f64>), InvalidRequest> {
    const FORM: &str = "write readings like `ec 1.6 ph 6.1`";
    let (mut ec, mut ph) = (None, None);
    let mut rest = words;
    while let [key, value, after @ ..] = rest {
        rest = after;
        match key.to_lowercase().as_str() {
            "ec" => {
                let unit = match after {
                    [unit, more @ ..]
                        if format!("{value} {unit}").parse::<Conductivity>().is_ok() =>
                    {
                        rest = more;
                        unit.as_str()
                    }
                    _ if value.parse::<f64>().is_ok() => "mS/cm",
                    _ => "",
                };
                let text = format!("{value} {unit}");
                let read: Conductivity = text
                    .parse()
                    .map_err(|_| InvalidRequest(format!("`{text}` is not an EC; {FORM}")))?;
                limits::check_ec(read).map_err(InvalidRequest)?;
                ec = Some(read);
            }
            "ph" => {
                let read: f64 = value
                    .parse()
                    .map_err(|_| InvalidRequest(format!("`{value}` is not a pH; {FORM}")))?;
                limits::check_ph(read).map_err(InvalidRequest)?;
                ph = Some(read);
            }
            other => {
                let near = nearest(other, ["ec", "ph"]);
                let near = near.map_or(String::new(), |n| format!("; did you mean `{n}`?"));
                return invalid(format!("`{other}` is not a reading{near}; {FORM}"));
            }
        }
    }
    if !rest.is_empty() || (ec.is_none() && ph.is_none()) {
        return invalid(FORM.to_owned());
    }
    Ok((ec, ph))
}
