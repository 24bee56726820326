//! Every garden in `examples/` reads, plans, and has its wants met.

use std::fs;
use std::path::{Path, PathBuf};

use rstest::rstest;
use steadyleaf::garden::file;
use steadyleaf::garden::place::Cover;
use steadyleaf::garden::rig::Form;
use steadyleaf::plan;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::watch::Watch;

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

#[rstest]
#[case("attic-shelf")]
#[case("harbour-wall")]
#[case("lantern-court")]
#[case("mist-hill-towers")]
fn it_plans_and_meets_its_wants(#[case] name: &str) {
    let loaded = file::read(&root().join("examples").join(name)).unwrap_or_else(|e| panic!("{e}"));
    let planned = plan::make(
        &loaded.garden,
        &loaded.fingerprint,
        Effort::Quick,
        &Watch::nobody(),
    )
    .expect("a plan that keeps every rule");
    for want in &planned.plan.wants {
        let met = want
            .met
            .unwrap_or_else(|| panic!("{}: no week counts", want.want));
        assert!(met >= 0.95, "{}: only {met:.3} is met", want.want);
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
    assert!(forms().any(|f| matches!(f, Form::Level { .. })));
    assert!(forms().any(|f| matches!(f, Form::Wall { .. })));
    assert!(forms().any(|f| matches!(f, Form::Tower { .. })));
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
