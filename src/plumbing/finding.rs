//! One judgement of a part of the rig: a number, its limit, and where the limit comes from.

use serde::Serialize;

/// A judgement.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RigFinding {
    /// What is looked at.
    pub check: RigCheck,
    /// The bank it is about; the whole loop if absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bank: Option<String>,
    /// How it stands.
    pub verdict: Verdict,
    /// What it is, in `unit`.
    pub value: f64,
    /// What it should be, in `unit`: at least or at most, as [`RigCheck::limit_kind`] says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<f64>,
    /// The unit of both.
    pub unit: &'static str,
    /// Where the limit comes from.
    pub from: Basis,
}

/// How a part of the rig stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// As it should be.
    Ok,
    /// It may do, or cannot be told from here: look at it before planting.
    #[serde(rename = "check")]
    Warn,
    /// It will not do.
    #[serde(rename = "fix")]
    Fail,
}

/// What is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RigCheck {
    /// What the pump is rated to move [l/h].
    PumpRating,
    /// How high the pump is rated to lift \[m\].
    PumpLift,
    /// What reaches each tube, wall or tower [l/h].
    StreamFlow,
    /// Speed of the water in the hose [m/s].
    HoseSpeed,
    /// What the tank holds against what stands in the tubes.
    TankSize,
    /// Days from a full tank to its least level, all holes full on the thirstiest day.
    TankLasts,
    /// Open water of a tank without a lid \[m2\].
    OpenTank,
    /// Weight of the full tank on the floor under it [kN/m2].
    FloorLoad,
    /// Bore of the drains \[m\].
    DrainBore,
    /// How far the drains fall for their length.
    DrainSlope,
    /// How full the drains run, as a share of their bore; more than 1 where they overflow.
    DrainFill,
    /// EC of the water itself \[mS/cm\].
    SourceWater,
    /// The same against what plants take up: topped up with stronger, the EC climbs.
    TopUpWater,
    /// How many pairs of the wanted crops share no solution.
    SharedSolution,
    /// How full the tubes stand, as a share of their bore; far below the limit is to be looked at
    /// too.
    TubeFill,
    /// From the middle of a tube to the middle of the next \[m\].
    TubeGap,
    /// The same of a wall, where more than enough is height lost \[m\].
    WallGap,
    /// Weight of a bank, brimful and planted \[kg\].
    Weight,
    /// Hours that its roots stay wet without a pump, all holes full on the thirstiest day.
    PowerCut,
}

/// On which side of its limit a value should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitKind {
    /// No less than the limit.
    AtLeast,
    /// No more than the limit.
    AtMost,
}

impl RigCheck {
    /// On which side of its limit the value should be.
    #[must_use]
    pub const fn limit_kind(self) -> LimitKind {
        match self {
            Self::PumpRating
            | Self::PumpLift
            | Self::StreamFlow
            | Self::TankSize
            | Self::TankLasts
            | Self::DrainBore
            | Self::DrainSlope
            | Self::TubeGap
            | Self::PowerCut => LimitKind::AtLeast,
            Self::HoseSpeed
            | Self::FloorLoad
            | Self::DrainFill
            | Self::SourceWater
            | Self::TopUpWater
            | Self::OpenTank
            | Self::SharedSolution
            | Self::TubeFill
            | Self::WallGap
            | Self::Weight => LimitKind::AtMost,
        }
    }

    const fn unit(self) -> &'static str {
        match self {
            Self::PumpRating | Self::StreamFlow => "l/h",
            Self::PumpLift | Self::DrainBore | Self::TubeGap | Self::WallGap => "m",
            Self::HoseSpeed => "m/s",
            Self::TankLasts => "days",
            Self::FloorLoad => "kN/m2",
            Self::SourceWater | Self::TopUpWater => "mS/cm",
            Self::OpenTank => "m2",
            Self::SharedSolution => "pairs",
            Self::Weight => "kg",
            Self::PowerCut => "h",
            Self::TankSize => "times",
            Self::DrainSlope | Self::DrainFill | Self::TubeFill => "ones",
        }
    }
}

/// Where a limit comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// A rule of the trade.
    CommonPractice,
    /// The garden's own workdays.
    Workdays,
    /// The crops' cards.
    Cards,
    /// A part of the EC to aim at.
    HalfOfSetpoint,
    /// What plants take up, reckoned from what they are made of.
    Estimate,
    /// A standard of drains.
    DrainStandard,
    /// A standard of loads on floors.
    FloorStandard,
    /// Nobody but somebody licensed.
    Licensed,
}

impl Basis {
    /// In words, as data files tell it.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::CommonPractice => "common practice, no published source",
            Self::Workdays => "the garden's own workdays",
            Self::Cards => "the crops' cards",
            Self::HalfOfSetpoint => "half of the EC to aim at, common practice",
            Self::Estimate => "our estimate from what plants are made of",
            Self::DrainStandard => "EN 12056-2 for indoor drains, from memory",
            Self::FloorStandard => {
                "EN 1991-1-1, floors of dwellings, from memory; national rules differ"
            }
            Self::Licensed => "somebody licensed says what the place bears",
        }
    }
}

impl Serialize for Basis {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.text())
    }
}

impl RigFinding {
    /// A value judged by two limits: fine up to `limit`, to be changed beyond `bad`, to be looked
    /// at between. Give `bad` beyond reach where nothing must be changed.
    #[must_use]
    pub fn against_limits(check: RigCheck, value: f64, limit: f64, bad: f64, from: Basis) -> Self {
        // Computed numbers that should be equal to their limits may be a hair beside them.
        let hair = 1.0e-9 * limit.abs().max(1.0);
        let keeps = |limit: f64| match check.limit_kind() {
            LimitKind::AtLeast => value >= limit - hair,
            LimitKind::AtMost => value <= limit + hair,
        };
        let verdict = if keeps(limit) {
            Verdict::Ok
        } else if keeps(bad) {
            Verdict::Warn
        } else {
            Verdict::Fail
        };
        Self {
            check,
            bank: None,
            verdict,
            value,
            limit: Some(limit),
            unit: check.unit(),
            from,
        }
    }

    /// A number that nobody can judge from here.
    #[must_use]
    pub const fn without_limit(check: RigCheck, value: f64, from: Basis) -> Self {
        Self {
            check,
            bank: None,
            verdict: Verdict::Warn,
            value,
            limit: None,
            unit: check.unit(),
            from,
        }
    }

    /// The same, about one bank.
    #[must_use]
    pub fn for_bank(self, bank: &str) -> Self {
        Self {
            bank: Some(bank.to_owned()),
            ..self
        }
    }
}
