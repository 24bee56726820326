//! Plans that several tests begin with, each made once.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock, Mutex, OnceLock};

use steadyleaf::garden::Garden;
use steadyleaf::plan::{Planned, plan_without_advice};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;

static PLANS: LazyLock<Mutex<HashMap<String, Arc<OnceLock<Planned>>>>> =
    LazyLock::new(Mutex::default);

/// A garden's quick plan, without advice. What a garden is, all of it, is the key.
pub fn quick_plan(garden: &Garden) -> Planned {
    let key = format!("{garden:?}");
    let plan = PLANS.lock().unwrap().entry(key).or_default().clone();
    let made = plan.get_or_init(|| {
        plan_without_advice(garden, "", Effort::Quick, &Monitor::unwatched())
            .expect("a plan that keeps every rule")
    });
    made.clone()
}
