//! Long work: a bar that shows how far it has come, and Ctrl-C that ends it well.

use std::io::{self, IsTerminal};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::planner::monitor::Progress;

/// A flag that the first Ctrl-C sets; the second ends the program at once.
pub fn stop_on_interrupt() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let flag = Arc::clone(&stop);
    // Where no handler can be set, Ctrl-C ends the program, as ever: nothing is half written.
    let _ = ctrlc::set_handler(move || {
        if flag.swap(true, Ordering::Relaxed) {
            std::process::exit(130);
        }
    });
    stop
}

/// A bar on standard error, to whoever sits before it.
pub fn bar(quiet: bool) -> ProgressBar {
    let shown = !quiet && io::stderr().is_terminal();
    let target = if shown {
        ProgressDrawTarget::stderr()
    } else {
        ProgressDrawTarget::hidden()
    };
    let style = ProgressStyle::with_template(
        "{bar:30} {percent:>3} %  {msg}  (Ctrl-C: take the best so far)",
    );
    ProgressBar::with_draw_target(Some(1), target)
        .with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()))
}

/// Moves a bar on.
pub fn advance(bar: &ProgressBar, progress: Progress) {
    bar.set_length(progress.of as u64);
    bar.set_position(progress.done as u64);
    if let Some(gap) = progress.gap_percent {
        bar.set_message(format!("at most {gap:.1} % from the best there is"));
    }
}
