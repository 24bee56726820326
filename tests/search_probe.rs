//! probe
#[path = "common/problems.rs"]
mod problems;
use problems::*;
use steadyleaf::planner::{ceiling, checker, cost, model::Model, search::*};
#[test]
fn probe() {
    for (level, spread, crops) in [
        (60, 180, 1),
        (80, 180, 1),
        (100, 180, 1),
        (120, 180, 1),
        (80, 200, 1),
        (100, 200, 1),
        (80, 220, 1),
        (100, 220, 1),
        (120, 220, 1),
        (80, 200, 2),
        (100, 200, 2),
        (100, 220, 2),
    ] {
        let p = invented(Shape {
            level,
            spread_mm: spread,
            crops,
            cleans: std::env::var("CLEANS").is_ok(),
            ..Shape::default()
        });
        let m = Model::new(&p);
        let none = cost::of_nothing(&p);
        for e in [Effort::Quick, Effort::Normal, Effort::Thorough] {
            if e == Effort::Thorough && std::env::var("THOROUGH").is_err() {
                continue;
            }
            let t = std::time::Instant::now();
            let s = search(&m, e, 1);
            let el = t.elapsed();
            let b = checker::check(&p, &s);
            let c = s.cost(&p);
            let supply: Vec<i64> = s.supply(&p).concat();
            let t = std::time::Instant::now();
            let rounds = std::env::var("ROUNDS").map_or(500, |r| r.parse().unwrap());
            let ceil = ceiling::ceiling(&m, c, 0, &supply, rounds);
            let tc = t.elapsed();
            println!(
                "level {level} spread {spread} crops {crops} {e:?} {el:?} cost {c} of {none} broken {:?} bound {} gap {:.3}% ({:.1}% of cost) rounds {} in {tc:?}",
                b.first(),
                ceil.bound,
                100.0 * (c - ceil.bound) as f64 / (none - ceil.bound) as f64,
                100.0 * (c - ceil.bound) as f64 / c as f64,
                ceil.rounds
            );
        }
    }
}
