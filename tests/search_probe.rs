//! probe
#[path = "common/problems.rs"]
mod problems;
use problems::*;
use steadyleaf::planner::{checker, cost, model::Model, search::*};
#[test]
fn probe() {
    for (level, spread, crops) in [(60,180,1),(80,180,1),(100,180,1),(120,180,1),(80,200,1),(80,220,1),(100,220,1),(80,200,2)] {
    let p = invented(Shape{level, spread_mm: spread, crops, ..Shape::default()});
    let t = std::time::Instant::now();
    let m = Model::new(&p);
    let tm = t.elapsed();
    for e in [Effort::Quick, Effort::Normal, Effort::Thorough] {
        let t = std::time::Instant::now();
        let s = search(&m, e, 1);
        let el = t.elapsed();
        let b = checker::check(&p, &s);
        println!("level {level} spread {spread} crops {crops} arcs {} model {tm:?} {e:?} {el:?} cost {} of {} broken {:?}", m.classes[0].arcs.len(), s.cost(&p), cost::of_nothing(&p), b.first());
    }}
}
