//! Every garden in `examples/` reads, plans, and has its wants met.

use std::fs;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use rstest::rstest;
use steadyleaf::garden::file;
use steadyleaf::garden::place::Cover;
use steadyleaf::garden::rig::BankForm;
use steadyleaf::plan;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::units::Conductivity;

use crate::{independent_check, outputs_match_plan, tank_mass_balance};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn examples() -> Vec<PathBuf> {
    let mut folders: Vec<PathBuf> = fs::read_dir(root().join("examples"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.join("garden.yaml").exists())
        .collect();
    folders.sort();
    folders
}

/// Whoever follows the chores for a year keeps the solution within what suits what stands there, but
/// on the days of each loop that are given: those of an absence, and those on which a small tank
/// thickens between two workdays, of which the plan tells.
#[rstest]
#[case("attic-shelf", &[0])]
#[case("harbour-wall", &[9])]
#[case("lantern-court", &[9, 31])]
#[case("mist-hill-towers", &[0])]
fn it_plans_meets_its_wants_and_keeps_a_solution_that_suits(
    #[case] name: &str,
    #[case] days_above: &[usize],
) {
    let mut loaded =
        file::read(&root().join("examples").join(name)).unwrap_or_else(|e| panic!("{e}"));
    for of_loop in &mut loaded.garden.loops {
        of_loop.nutrients.stock_ec = Some(Conductivity::millisiemens(100.0));
    }
    let planned = plan::plan_garden(
        &loaded.garden,
        &loaded.fingerprint,
        Effort::Quick,
        &Monitor::unwatched(),
    )
    .expect("a plan that keeps every rule");
    assert_eq!(
        independent_check::faults(&planned.plan, &loaded.garden, None),
        [""; 0]
    );
    assert_eq!(
        outputs_match_plan::to_everybody(&planned, &loaded.garden),
        [""; 0]
    );
    for want in &planned.plan.wants {
        let met = want
            .met
            .unwrap_or_else(|| panic!("{}: no week counts", want.want));
        assert!(met >= 0.95, "{}: only {met:.3} is met", want.want);
    }
    let loops = loaded.garden.loops.iter().zip(days_above);
    for ((of_loop, &most), water) in loops.zip(&planned.plan.water) {
        let year = tank_mass_balance::follow(&planned.plan, &loaded.garden, of_loop);
        assert!(year.planted > 300, "{}: {}", of_loop.name, year.planted);
        assert!(
            year.above.len() <= most && year.below.is_empty(),
            "{}: above on {:?}, below on {:?}",
            of_loop.name,
            year.above,
            year.below
        );
        let is_low = |day: &NaiveDate| water.low.iter().any(|l| l.from <= *day && *day <= l.until);
        let above = year.above.iter().filter(|day| !is_low(day)).count();
        let told = water.too_strong.as_ref().map_or(0, |strong| strong.days);
        assert!(above.abs_diff(told) <= 2, "{above} above, {told} told");
    }
}

#[test]
fn they_show_every_form_cover_and_part_of_the_world() {
    let gardens: Vec<_> = examples()
        .iter()
        .map(|folder| file::read(folder).unwrap_or_else(|e| panic!("{e}")).garden)
        .collect();
    assert_eq!(gardens.len(), 4);
    let forms = || {
        gardens
            .iter()
            .flat_map(|g| &g.loops)
            .flat_map(|l| &l.banks)
            .map(|b| &b.form)
    };
    assert!(forms().any(|f| matches!(f, BankForm::Level { .. })));
    assert!(forms().any(|f| matches!(f, BankForm::Wall { .. })));
    assert!(forms().any(|f| matches!(f, BankForm::Tower { .. })));
    assert!(gardens.iter().any(|g| g.loops.len() == 2));
    let covers = || gardens.iter().map(|g| &g.place.cover);
    assert!(covers().any(|c| matches!(c, Cover::OpenAir)));
    assert!(covers().any(|c| matches!(c, Cover::Greenhouse { .. })));
    assert!(covers().any(|c| matches!(c, Cover::Indoors { .. })));
    let latitudes = || gardens.iter().map(|g| g.place.latitude);
    assert!(latitudes().any(|l| l > 23.5));
    assert!(latitudes().any(|l| l < -23.5));
    assert!(latitudes().any(|l| l.abs() < 23.5));
}
