//! One crop of a want takes over from another.

use chrono::NaiveDate;

use crate::chores::words::ChoreText;

impl ChoreText {
    pub(crate) fn changeover_title(self, turns: &[Takeover]) -> String {
        let turn = |t: &Takeover| {
            let values = [("to", t.to.into()), ("from", t.from.into())];
            self.0.format("swap-turn", values)
        };
        let turns: Vec<String> = turns.iter().map(turn).collect();
        self.title("swap", &turns)
    }

    pub(crate) fn changeover_line(self, turn: &Takeover, today: NaiveDate) -> String {
        let key = match turn.last.cmp(&today) {
            std::cmp::Ordering::Equal => "swap-line-today",
            std::cmp::Ordering::Less => "swap-line-past",
            std::cmp::Ordering::Greater => "swap-line-later",
        };
        let values = [
            ("want", turn.want.into()),
            ("to", turn.to.into()),
            ("from", turn.from.into()),
            ("date", self.0.date(turn.last, today).into()),
        ];
        self.0.format(key, values)
    }
}

/// One crop of a want takes over from another.
pub(crate) struct Takeover<'a> {
    pub(crate) want: &'a str,
    pub(crate) from: &'a str,
    pub(crate) last: NaiveDate,
    pub(crate) to: &'a str,
}
