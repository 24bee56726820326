//! Where holes are, held against drawings worked by hand. Lengths in the drawings are in cm.

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::garden::holes::{
    HolePair, Layout, PlantingHole, bank_hole_count, layout_of_loops, neighbour_pairs,
};
use steadyleaf::garden::rig::{Bank, BankForm, Loop, Tank};
use steadyleaf::units::{Length, Share, Volume};

fn cm(number: f64) -> Length {
    Length::metres(number / 100.0)
}

fn tank() -> Tank {
    Tank::new(Volume::litres(100.0), Share::fraction(0.5))
}

/// One loop holding these banks, laid out.
fn laid(banks: Vec<Bank>) -> Layout {
    layout_of_loops(&[Loop::new("roof", tank(), banks)])
}

fn level(tubes: u32, length: f64, pitch: f64, gap: f64, headroom: Option<f64>) -> Bank {
    let form = BankForm::Level {
        tubes,
        length: cm(length),
        tube_gap: cm(gap),
        headroom: headroom.map(cm),
    };
    Bank::new("deck", form, cm(10.4), cm(pitch))
}

fn wall(tubes: u32, length: f64, pitch: f64, gap: f64, top: f64) -> Bank {
    let form = BankForm::Wall {
        tubes,
        length: cm(length),
        tube_gap: cm(gap),
        top: cm(top),
    };
    Bank::new("wall", form, cm(10.4), cm(pitch))
}

fn tower(towers: u32, height: f64, pitch: f64, faces: u32, gap: f64) -> Bank {
    let form = BankForm::Tower {
        towers,
        height: cm(height),
        faces,
        tube_gap: cm(gap),
    };
    Bank::new("corner", form, cm(10.4), cm(pitch))
}

fn hole<'a>(layout: &'a Layout, id: &str) -> &'a PlantingHole {
    let found = layout.holes.iter().find(|h| h.id == id);
    found.unwrap_or_else(|| panic!("no hole {id}"))
}

#[track_caller]
fn assert_at(layout: &Layout, id: &str, expected: [f64; 3]) {
    let position = hole(layout, id).position;
    for (found, expected) in position.iter().zip(expected) {
        assert!(
            (found * 100.0 - expected).abs() < 0.001,
            "{id} is at {position:?} m, not {expected:?} cm"
        );
    }
}

/// The pair of these two holes among all that are within 2 m.
fn pair(layout: &Layout, a: &str, b: &str) -> HolePair {
    let index = |id| layout.holes.iter().position(|h| h.id == id).expect(id);
    let (a, b) = (index(a), index(b));
    let (a, b) = (a.min(b), a.max(b));
    let pairs = neighbour_pairs(layout, cm(200.0));
    let found = pairs.iter().find(|p| (p.a, p.b) == (a, b));
    *found.expect("these two are near each other")
}

#[track_caller]
fn assert_apart(layout: &Layout, a: &str, b: &str, expected: f64) {
    let found = pair(layout, a, b).distance.get() * 100.0;
    assert!(
        (found - expected).abs() < 0.001,
        "{a} and {b} are {found} cm apart, not {expected}"
    );
}

// ------------------------------------------------------------------------------------- level
//
//  y
//  30  |--o---o---o---o---o---o--|   deck-2     six holes: 100 / 15 = 6.67, rounded down
//       12.5                                    five gaps: 5 * 15 = 75
//   0  |--o---o---o---o---o---o--|   deck-1     margin: (100 - 75) / 2 = 12.5 at either end
//      0                        100  x

#[test]
fn a_level_row_is_centred_and_tubes_lie_a_gap_apart() {
    let layout = laid(vec![level(2, 100.0, 15.0, 30.0, None)]);
    assert_eq!(layout.holes.len(), 12);
    // Half of the 10.4 bore above the centre line.
    assert_at(&layout, "deck-1-1", [12.5, 0.0, 5.2]);
    assert_at(&layout, "deck-1-6", [87.5, 0.0, 5.2]);
    assert_at(&layout, "deck-2-1", [12.5, 30.0, 5.2]);
    assert_at(&layout, "deck-2-6", [87.5, 30.0, 5.2]);
}

#[rstest]
#[case::next_along_the_tube("deck-1-2", "deck-1-3", 15.0)]
#[case::next_but_one("deck-1-2", "deck-1-4", 30.0)]
#[case::across_the_gap("deck-1-4", "deck-2-4", 30.0)]
// sqrt(15^2 + 30^2) = sqrt(1125)
#[case::diagonal("deck-1-4", "deck-2-5", 33.541_02)]
// sqrt(30^2 + 30^2) = sqrt(1800)
#[case::two_along_and_across("deck-1-2", "deck-2-4", 42.426_41)]
fn distances_on_a_level(#[case] a: &str, #[case] b: &str, #[case] expected: f64) {
    let layout = laid(vec![level(2, 100.0, 15.0, 30.0, None)]);
    assert_apart(&layout, a, b, expected);
}

#[rstest]
#[case::open(None)]
#[case::under_a_shelf(Some(45.0))]
fn headroom_on_a_level_is_as_stated(#[case] headroom: Option<f64>) {
    let layout = laid(vec![level(2, 100.0, 15.0, 30.0, headroom)]);
    assert!(layout.holes.iter().all(|h| h.headroom == headroom.map(cm)));
}

/// How many fit, and where the first then is: (length - (holes - 1) * pitch) / 2.
#[rstest]
#[case::fits_exactly_in_spite_of_binary_fractions(120.0, 15.0, 8, 7.5)]
#[case::a_hair_too_short(119.9, 15.0, 7, 14.95)]
#[case::ten_to_a_metre(100.0, 10.0, 10, 5.0)]
#[case::two(30.0, 15.0, 2, 7.5)]
#[case::only_one(29.0, 15.0, 1, 14.5)]
#[case::shorter_than_the_pitch(10.0, 15.0, 1, 5.0)]
// Every 6 in along 2 m: 200 / 15.24 = 13.12, so 13; (200 - 12 * 15.24) / 2 = 8.56
#[case::inches(200.0, 15.24, 13, 8.56)]
fn holes_along_a_tube(
    #[case] length: f64,
    #[case] pitch: f64,
    #[case] count: usize,
    #[case] first: f64,
) {
    let bank = level(1, length, pitch, 30.0, None);
    assert_eq!(bank_hole_count(&bank), count as u64);
    let layout = laid(vec![bank]);
    assert_eq!(layout.holes.len(), count);
    assert_at(&layout, "deck-1-1", [first, 0.0, 5.2]);
    let last = format!("deck-1-{count}");
    assert_at(&layout, &last, [length - first, 0.0, 5.2]);
}

// -------------------------------------------------------------------------------------- wall
//
//   z
//  180  inlet -> |--1---2---3--|-+   wall-1     three holes: 50 / 15 = 3.33
//                                |              margin: (50 - 2 * 15) / 2 = 10
//  145         +-|--3---2---1--|-+   wall-2     x = 10, 25, 40
//              |
//  110         +-|--1---2---3--|->   wall-3     to the tank
//                0  10  25  40  50   x
//
//  A plant on wall-2 stands on its tube, 5.2 above the centre line; wall-1 reaches down to 5.2
//  below its own: 35 - 5.2 - 5.2 = 24.6 are free.

#[test]
fn numbers_on_a_wall_follow_the_water() {
    let layout = laid(vec![wall(3, 50.0, 15.0, 35.0, 180.0)]);
    let drawing = [
        ("wall-1-1", 10.0, 180.0),
        ("wall-1-2", 25.0, 180.0),
        ("wall-1-3", 40.0, 180.0),
        ("wall-2-1", 40.0, 145.0),
        ("wall-2-2", 25.0, 145.0),
        ("wall-2-3", 10.0, 145.0),
        ("wall-3-1", 10.0, 110.0),
        ("wall-3-2", 25.0, 110.0),
        ("wall-3-3", 40.0, 110.0),
    ];
    let ids: Vec<_> = layout.holes.iter().map(|h| h.id.as_str()).collect();
    assert_eq!(ids, drawing.map(|(id, _, _)| id));
    for (id, x, centre_line) in drawing {
        assert_at(&layout, id, [x, 0.0, centre_line + 5.2]);
    }
}

#[rstest]
#[case::along("wall-1-1", "wall-1-2", 15.0)]
#[case::at_the_turn_one_is_below_the_other("wall-1-3", "wall-2-1", 35.0)]
#[case::straight_below("wall-1-1", "wall-2-3", 35.0)]
// sqrt(15^2 + 35^2) = sqrt(1450)
#[case::diagonal("wall-1-1", "wall-2-2", 38.078_87)]
// sqrt(30^2 + 35^2) = sqrt(2125): the same number, but at opposite ends
#[case::same_number_other_end("wall-1-1", "wall-2-1", 46.097_72)]
#[case::two_tubes_down("wall-1-2", "wall-3-2", 70.0)]
fn distances_on_a_wall(#[case] a: &str, #[case] b: &str, #[case] expected: f64) {
    let layout = laid(vec![wall(3, 50.0, 15.0, 35.0, 180.0)]);
    assert_apart(&layout, a, b, expected);
}

#[rstest]
#[case::top_tube_is_open("wall-1-2", None)]
#[case::below_the_top("wall-2-2", Some(24.6))]
#[case::at_the_bottom("wall-3-1", Some(24.6))]
fn headroom_on_a_wall(#[case] id: &str, #[case] expected: Option<f64>) {
    let layout = laid(vec![wall(3, 50.0, 15.0, 35.0, 180.0)]);
    let found = hole(&layout, id).headroom.map(|h| h.get() * 100.0);
    assert_eq!(found.is_some(), expected.is_some());
    if let (Some(found), Some(expected)) = (found, expected) {
        assert!((found - expected).abs() < 0.001, "{found} cm are free");
    }
}

// ------------------------------------------------------------------------------------- tower
//
//  From the side, 100 high, a row every 25:        From above, canopies out from the axis by
//                                                  10.4 / 2 + 8 = 13.2:
//   z
//  87.5  \|/   row 1, open above                    3 faces               4 faces
//  62.5  \|/   row 2                                 3     2                 3
//  37.5  \|/   row 3                                   \ /                   |
//  12.5  \|/   row 4                                    +                4 --+-- 2
//                                                       |                    |
//  rows: 100 / 25 = 4                                   1 (front)            1 (front)
//  margin: (100 - 3 * 25) / 2 = 12.5
//                                                  one face to the next, the chord of
//  A plant leaning at 45 degrees whose tip is      120 degrees:          90 degrees:
//  25 up is 25 * sqrt 2 = 35.355 long.             13.2 * sqrt 3         13.2 * sqrt 2

#[rstest]
// sin 120 = sqrt(3) / 2: x = 13.2 * 0.866025 = 11.43154; cos 120 = -1/2: y = 13.2 / 2 = 6.6
#[case::front_of_3(3, "corner-1-1", [0.0, -13.2, 87.5])]
#[case::right_of_3(3, "corner-1-2", [11.431_54, 6.6, 87.5])]
#[case::left_of_3(3, "corner-1-3", [-11.431_54, 6.6, 87.5])]
#[case::second_row_of_3(3, "corner-1-4", [0.0, -13.2, 62.5])]
#[case::last_of_3(3, "corner-1-12", [-11.431_54, 6.6, 12.5])]
#[case::front_of_4(4, "corner-1-1", [0.0, -13.2, 87.5])]
#[case::right_of_4(4, "corner-1-2", [13.2, 0.0, 87.5])]
#[case::back_of_4(4, "corner-1-3", [0.0, 13.2, 87.5])]
#[case::left_of_4(4, "corner-1-4", [-13.2, 0.0, 87.5])]
#[case::second_row_of_4(4, "corner-1-5", [0.0, -13.2, 62.5])]
#[case::last_of_4(4, "corner-1-16", [-13.2, 0.0, 12.5])]
#[case::second_tower_a_gap_to_the_right(4, "corner-2-1", [60.0, -13.2, 87.5])]
fn holes_around_a_tower(#[case] faces: u32, #[case] id: &str, #[case] expected: [f64; 3]) {
    let layout = laid(vec![tower(2, 100.0, 25.0, faces, 60.0)]);
    assert_at(&layout, id, expected);
}

#[test]
fn a_tower_counts_rows_from_the_top_and_faces_within_them() {
    let layout = laid(vec![tower(1, 100.0, 25.0, 3, 60.0)]);
    let places: Vec<_> = layout
        .holes
        .iter()
        .map(|h| (h.number, h.row.unwrap(), h.face.unwrap()))
        .collect();
    #[rustfmt::skip]
    assert_eq!(places, [
        (1, 1, 1), (2, 1, 2), (3, 1, 3),
        (4, 2, 1), (5, 2, 2), (6, 2, 3),
        (7, 3, 1), (8, 3, 2), (9, 3, 3),
        (10, 4, 1), (11, 4, 2), (12, 4, 3),
    ]);
}

#[rstest]
#[case::next_row_of_the_face(3, "corner-1-1", "corner-1-4", 25.0)]
#[case::two_rows_down(3, "corner-1-1", "corner-1-7", 50.0)]
// 13.2 * sqrt 3
#[case::next_face_of_3(3, "corner-1-1", "corner-1-2", 22.863_07)]
#[case::each_of_3_is_next_to_each(3, "corner-1-1", "corner-1-3", 22.863_07)]
// sqrt(22.86307^2 + 25^2) = sqrt(522.72 + 625) = sqrt(1147.72)
#[case::next_face_of_3_one_row_down(3, "corner-1-1", "corner-1-5", 33.878_02)]
// 13.2 * sqrt 2
#[case::next_face_of_4(4, "corner-1-1", "corner-1-2", 18.667_62)]
#[case::opposite_face_of_4(4, "corner-1-1", "corner-1-3", 26.4)]
// sqrt(18.66762^2 + 25^2) = sqrt(348.48 + 625) = sqrt(973.48)
#[case::next_face_of_4_one_row_down(4, "corner-1-1", "corner-1-6", 31.200_64)]
// Face 2 of the first looks at face 4 of the second: 60 - 13.2 - 13.2
#[case::towers_face_to_face(4, "corner-1-2", "corner-2-4", 33.6)]
fn distances_on_a_tower(
    #[case] faces: u32,
    #[case] a: &str,
    #[case] b: &str,
    #[case] expected: f64,
) {
    let layout = laid(vec![tower(2, 100.0, 25.0, faces, 60.0)]);
    assert_apart(&layout, a, b, expected);
}

#[test]
fn a_tower_plant_may_grow_until_its_tip_is_level_with_the_cup_above() {
    let layout = laid(vec![tower(1, 100.0, 25.0, 3, 60.0)]);
    for hole in &layout.holes {
        match hole.headroom {
            None => assert_eq!(hole.row, Some(1)),
            // 25 * sqrt 2
            Some(free) => assert!((free.get() - 0.353_553).abs() < 1e-6, "{}", hole.id),
        }
    }
    let open = layout.holes.iter().filter(|h| h.headroom.is_none());
    assert_eq!(open.count(), 3);
}

// ------------------------------------------------------------------- names, tubes, neighbours

#[test]
fn banks_and_tubes_are_counted_over_the_whole_garden() {
    let roof = vec![level(2, 30.0, 15.0, 30.0, None)];
    let yard = vec![
        wall(1, 45.0, 15.0, 35.0, 100.0),
        tower(1, 50.0, 25.0, 3, 60.0),
    ];
    let layout = layout_of_loops(&[
        Loop::new("roof", tank(), roof),
        Loop::new("yard", tank(), yard),
    ]);
    let tubes: Vec<_> = layout
        .tubes
        .iter()
        .map(|t| (t.name.as_str(), t.r#loop, t.bank, t.first, t.count))
        .collect();
    assert_eq!(
        tubes,
        [
            ("deck-1", 0, 0, 0, 2),
            ("deck-2", 0, 0, 2, 2),
            ("wall-1", 1, 1, 4, 3),
            ("corner-1", 1, 2, 7, 6),
        ]
    );
    for (index, tube) in layout.tubes.iter().enumerate() {
        for hole in &layout.holes[tube.first..tube.first + tube.count] {
            let places = (hole.tube, hole.bank, hole.r#loop);
            assert_eq!(places, (index, tube.bank, tube.r#loop));
            assert_eq!(hole.id, format!("{}-{}", tube.name, hole.number));
        }
    }
}

fn beside(layout: &Layout) -> Vec<(&str, &str)> {
    neighbour_pairs(layout, cm(0.0))
        .iter()
        .inspect(|p| assert!(p.side_by_side))
        .map(|p| (layout.holes[p.a].id.as_str(), layout.holes[p.b].id.as_str()))
        .collect()
}

#[test]
fn side_by_side_is_the_next_in_the_tube_and_not_across_tubes() {
    let layout = laid(vec![wall(2, 45.0, 15.0, 35.0, 100.0)]);
    assert_eq!(
        beside(&layout),
        [
            ("wall-1-1", "wall-1-2"),
            ("wall-1-2", "wall-1-3"),
            ("wall-2-1", "wall-2-2"),
            ("wall-2-2", "wall-2-3"),
        ]
    );
}

#[test]
fn side_by_side_on_a_tower_is_the_next_row_of_the_face() {
    let layout = laid(vec![tower(1, 75.0, 25.0, 3, 60.0)]);
    assert_eq!(
        beside(&layout),
        [
            ("corner-1-1", "corner-1-4"),
            ("corner-1-2", "corner-1-5"),
            ("corner-1-3", "corner-1-6"),
            ("corner-1-4", "corner-1-7"),
            ("corner-1-5", "corner-1-8"),
            ("corner-1-6", "corner-1-9"),
        ]
    );
}

#[test]
fn holes_exactly_as_far_apart_as_asked_are_near() {
    let layout = laid(vec![level(1, 200.0, 15.0, 30.0, None)]);
    let pairs = neighbour_pairs(&layout, cm(30.0));
    // Thirteen holes: twelve pairs of neighbours, eleven of next but one.
    assert_eq!(pairs.len(), 12 + 11);
    let apart = [cm(15.0), cm(30.0)];
    assert!(pairs.iter().all(|p| apart.contains(&p.distance)));
}

#[test]
fn banks_are_out_of_each_others_reach() {
    let banks = vec![
        level(1, 30.0, 15.0, 30.0, None),
        wall(1, 30.0, 15.0, 35.0, 0.0),
    ];
    let layout = laid(banks);
    let pairs = neighbour_pairs(&layout, cm(1000.0));
    assert_eq!(pairs.len(), 2);
    for pair in pairs {
        assert_eq!(layout.holes[pair.a].bank, layout.holes[pair.b].bank);
    }
}

#[rstest]
#[case::level(level(4, 100.0, 15.0, 30.0, None), 24)]
#[case::wall(wall(3, 200.0, 15.0, 35.0, 180.0), 39)]
#[case::tower(tower(2, 150.0, 25.0, 3, 60.0), 36)]
fn holes_of_a_bank_are_counted_without_making_them(#[case] bank: Bank, #[case] expected: u64) {
    assert_eq!(bank_hole_count(&bank), expected);
    assert_eq!(laid(vec![bank]).holes.len() as u64, expected);
}

#[test]
fn counting_the_holes_of_an_absurd_bank_does_not_overflow() {
    // A thousand tubes of 900 km, a hole every 0.1 mm.
    let bank = level(1000, 9.0e7, 0.01, 30.0, None);
    assert_eq!(bank_hole_count(&bank), 9_000_000_000_000);
    let bank = level(u32::MAX, 1.0e300, 1.0e-300, 30.0, None);
    assert_eq!(bank_hole_count(&bank), u64::MAX);
}

#[test]
fn a_hundred_thousand_holes_keep_their_few_neighbours() {
    let layout = laid(vec![level(500, 3000.0, 15.0, 30.0, None)]);
    assert_eq!(layout.holes.len(), 100_000);
    // Within 34: two along, and in the next tube straight across and both diagonals.
    let pairs = neighbour_pairs(&layout, cm(34.0));
    let along = 500 * (199 + 198);
    let across = 499 * (200 + 2 * 199);
    assert_eq!(pairs.len(), along + across);
}

fn some_bank() -> impl Strategy<Value = Bank> {
    let sizes = (1..5_u32, 5.0..150.0, 8.0..40.0, 12.0..80.0);
    (0..4, sizes).prop_map(|(form, (tubes, length, pitch, gap))| match form {
        0 => level(tubes, length, pitch, gap, None),
        1 => wall(tubes, length, pitch, gap, 180.0),
        2 => tower(tubes, length, pitch, 3, gap),
        _ => tower(tubes, length, pitch, 4, gap),
    })
}

proptest! {
    #[test]
    fn near_finds_what_looking_at_every_pair_finds(
        banks in prop::collection::vec(some_bank(), 1..4),
        within in 0.0..90.0,
    ) {
        let layout = laid(banks);
        let found: Vec<_> = neighbour_pairs(&layout, cm(within))
            .iter()
            .map(|p| (p.a, p.b, p.side_by_side))
            .collect();
        prop_assert_eq!(found, every_pair(&layout, within / 100.0));
    }

    #[test]
    fn every_hole_is_within_its_tube(bank in some_bank()) {
        let layout = laid(vec![bank.clone()]);
        prop_assert_eq!(layout.holes.len() as u64, bank_hole_count(&bank));
        let (axis, run) = match bank.form {
            BankForm::Level { length, .. } | BankForm::Wall { length, .. } => (0, length),
            BankForm::Tower { height, .. } => (2, height),
        };
        for hole in &layout.holes {
            prop_assert!((0.0..=run.get()).contains(&hole.position[axis]));
        }
    }
}

/// The near pairs by their definition, at the square's cost, neighbours in a tube being known by
/// their numbers, faces and rows.
fn every_pair(layout: &Layout, within: f64) -> Vec<(usize, usize, bool)> {
    let mut pairs = Vec::new();
    for (a, left) in layout.holes.iter().enumerate() {
        for (b, right) in layout.holes.iter().enumerate().skip(a + 1) {
            let beside = left.tube == right.tube
                && match (left.row, right.row) {
                    (Some(upper), Some(lower)) => lower == upper + 1 && left.face == right.face,
                    _ => right.number == left.number + 1,
                };
            let [x, y, z] = [0, 1, 2].map(|i| left.position[i] - right.position[i]);
            let apart = (x.hypot(y).hypot(z) * 1e6).round() / 1e6;
            if beside || (left.bank == right.bank && apart <= within) {
                pairs.push((a, b, beside));
            }
        }
    }
    pairs
}
