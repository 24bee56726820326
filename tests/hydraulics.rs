//! Water in tubes, hoses, pumps and drains, held against handbook tables and an independent
//! library (fluids 1.3.1, water properties by iapws 1.5.5).

use rstest::rstest;
use steadyleaf::garden::rig::{Bank, BankForm, Footprint, Hose, Pump, PumpPoint};
use steadyleaf::plumbing::autonomy::autonomy_hours;
use steadyleaf::plumbing::drain::{filled_share, manning_flow};
use steadyleaf::plumbing::friction::{
    self, KINEMATIC_VISCOSITY, SMOOTH_PIPE_ROUGHNESS, WATER_DENSITY, friction_factor,
    hose_friction_loss, pipe_friction_loss, reynolds, velocity,
};
use steadyleaf::plumbing::load::{FLOOR_LOAD_KN_PER_M2, bank_weight, floor_pressure};
use steadyleaf::plumbing::pump::{head_at, operating_flow};
use steadyleaf::plumbing::tube::{CircularSegment, full_volume, standing_volume, stream_count};
use steadyleaf::units::{Flow, Length, Share};

#[track_caller]
fn close(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}

fn mm(number: f64) -> Length {
    Length::metres(number / 1000.0)
}

/// Chow 1959, Open-Channel Hydraulics, table of circular sections: area over the diameter's
/// square.
#[rstest]
#[case(0.1, 0.0409)]
#[case(0.3, 0.1982)]
#[case(0.5, std::f64::consts::FRAC_PI_8)]
#[case(0.6, 0.492_028)]
#[case(0.75, 0.631_852)]
fn area_of_a_segment(#[case] filled: f64, #[case] area: f64) {
    close(CircularSegment::new(1.0, filled).area, area, 5e-5);
}

/// The same table: wetted perimeter, hydraulic radius and surface over the diameter.
#[rstest]
#[case(0.6, 1.772_154, 0.277_644, 0.979_796)]
#[case(0.75, 2.094_395, 0.301_687, 0.866_025)]
fn wall_radius_and_surface_of_a_segment(
    #[case] filled: f64,
    #[case] perimeter: f64,
    #[case] radius: f64,
    #[case] surface: f64,
) {
    let segment = CircularSegment::new(1.0, filled);
    close(segment.wetted_perimeter, perimeter, 1e-6);
    close(segment.hydraulic_radius(), radius, 1e-6);
    close(segment.surface_width, surface, 1e-6);
}

#[test]
fn a_half_full_pipe_has_the_radius_of_a_full_one() {
    close(
        CircularSegment::new(1.0, 0.5).hydraulic_radius(),
        0.25,
        1e-12,
    );
    close(
        CircularSegment::new(1.0, 1.0).hydraulic_radius(),
        0.25,
        1e-12,
    );
    close(CircularSegment::new(1.0, 0.0).hydraulic_radius(), 0.0, 0.0);
}

fn level(tubes: u32, length: f64, bore: f64, depth: f64) -> Bank {
    let form = BankForm::Level {
        tubes,
        length: Length::metres(length),
        tube_gap: mm(300.0),
        headroom: None,
    };
    let mut bank = Bank::new("deck", form, mm(bore), mm(150.0));
    bank.fill_share = Share::fraction(depth / bore);
    bank
}

/// Water in a lying tube of a bore at a depth [mm], from fluids 1.3.1 (`V_from_h`).
#[rstest]
#[case(103.6, 51.8, 1.0, 4.215)]
#[case(103.6, 40.0, 3.0, 9.009)]
#[case(103.6, 30.0, 1.0, 2.025)]
#[case(69.0, 30.0, 1.0, 1.560)]
fn water_standing_in_a_tube(
    #[case] bore: f64,
    #[case] depth: f64,
    #[case] length: f64,
    #[case] litres: f64,
) {
    close(
        standing_volume(&level(1, length, bore, depth)),
        litres,
        litres * 0.001,
    );
}

#[test]
fn a_wall_is_one_stream_and_nothing_stands_in_a_tower() {
    let wall = BankForm::Wall {
        tubes: 3,
        length: Length::metres(2.0),
        tube_gap: mm(350.0),
        top: Length::metres(1.8),
    };
    let tower = BankForm::Tower {
        towers: 2,
        height: Length::metres(1.5),
        faces: 3,
        tube_gap: mm(600.0),
    };
    let [wall, tower] = [wall, tower].map(|form| Bank::new("it", form, mm(103.6), mm(150.0)));
    assert_eq!(stream_count(&level(4, 1.0, 103.6, 51.8)), 4);
    assert_eq!(stream_count(&wall), 1);
    assert_eq!(stream_count(&tower), 2);
    // 6 m of tube, 4.215 l in each.
    close(standing_volume(&wall), 25.29, 0.03);
    close(standing_volume(&tower), 0.0, 0.0);
    // Pi/4 * 1.036^2 dm2 * 30 dm = 25.29 l.
    close(full_volume(&tower), 25.29, 0.03);
}

/// Water at 20 C: 998.21 kg/m3 and 1.003e-6 m2/s (IAPWS).
#[test]
fn water_is_water() {
    close(WATER_DENSITY, 0.998_21, 0.000_05);
    close(KINEMATIC_VISCOSITY, 1.003e-6, 0.005 * 1.003e-6);
}

/// A published surge-analysis problem (KYPipe, supplementary problem 0.2): a 300 mm main at 2 m/s,
/// roughness 0.12 mm. It prints 0.0169 and 0.0689 m for 6 m.
#[test]
fn friction_in_a_main() {
    let f = friction_factor(reynolds(2.0, 0.3, 1.0e-6), 0.000_12 / 0.3);
    close(f, 0.0169, 0.0001);
    close(f * 6.0 / 0.3 * 2.0 * 2.0 / (2.0 * 9.81), 0.0689, 0.0004);
}

/// A smooth hose of 16 mm, 10 m long, at 1000 l/h: fluids 1.3.1, Darcy and Weisbach with Colebrook.
#[test]
fn friction_in_a_hose() {
    let v = velocity(1000.0, 0.016);
    close(v, 1.3816, 0.0005);
    let re = reynolds(v, 0.016, KINEMATIC_VISCOSITY);
    close(re, 22_017.0, 22.0);
    close(
        friction_factor(re, SMOOTH_PIPE_ROUGHNESS / 0.016),
        0.0255,
        0.000_255,
    );
    close(
        pipe_friction_loss(1000.0, 0.016, 10.0, SMOOTH_PIPE_ROUGHNESS),
        1.5509,
        0.0155,
    );
}

/// A trickle of 60 l/h through 26.1 mm, 3 m long: laminar; fluids 1.3.1.
#[test]
fn friction_in_a_trickle() {
    let v = velocity(60.0, 0.0261);
    close(v, 0.0312, 0.000_05);
    let re = reynolds(v, 0.0261, KINEMATIC_VISCOSITY);
    close(re, 810.0, 1.0);
    close(
        friction_factor(re, SMOOTH_PIPE_ROUGHNESS / 0.0261),
        0.079_03,
        0.000_08,
    );
    close(
        pipe_friction_loss(60.0, 0.0261, 3.0, SMOOTH_PIPE_ROUGHNESS),
        0.000_45,
        0.000_005,
    );
}

/// Head lost in 100 ft of Schedule 40 pipe by its US gallons a minute, Illinois Administrative
/// Code, title 77, part 906, appendix A, exhibit I. That table is Hazen-Williams with C = 150, which
/// reads low in small slow pipes: by a quarter at Re 6000, an eighth at 15 000, some percent beyond.
#[rstest]
#[case(1.049, 2.0, 0.28, 1.27)]
#[case(1.049, 5.0, 1.52, 1.13)]
#[case(1.049, 10.0, 5.5, 1.06)]
#[case(1.38, 15.0, 3.06, 1.06)]
fn friction_in_plumbers_pipe(
    #[case] bore_in: f64,
    #[case] gpm: f64,
    #[case] feet: f64,
    #[case] most: f64,
) {
    let flow = gpm * 227.124_707_04;
    let lost = pipe_friction_loss(flow, bore_in * 0.0254, 30.48, SMOOTH_PIPE_ROUGHNESS) / 0.3048;
    assert!(
        lost >= feet * 0.98 && lost <= feet * most,
        "{lost} for {feet}"
    );
}

/// Between laminar and turbulent the factor neither jumps nor falls.
#[test]
fn friction_has_no_steps() {
    let factors: Vec<f64> = (19..=42)
        .map(|hundreds| friction_factor(f64::from(hundreds) * 100.0, 1e-4))
        .collect();
    for pair in factors.windows(2) {
        assert!((pair[1] - pair[0]).abs() < 0.002, "{pair:?}");
    }
    close(friction_factor(0.0, 1e-4), 0.0, 0.0);
}

/// Entrance 0.5, open end 1.0, two threaded elbows 0.9 each (Cengel and Cimbala): 3.3 velocity
/// heads. At 1000 l/h in 16 mm one is 1.3816^2 / 19.6133 = 0.09732 m.
#[test]
fn bends_and_ends_cost_lift() {
    let hose = |bends| Hose {
        bore: mm(16.0),
        length: Length::metres(10.0),
        bends,
        static_head: None,
    };
    let straight = pipe_friction_loss(1000.0, 0.016, 10.0, SMOOTH_PIPE_ROUGHNESS);
    close(
        hose_friction_loss(&hose(0), 1000.0) - straight,
        1.5 * 0.097_32,
        0.0005,
    );
    close(
        hose_friction_loss(&hose(2), 1000.0) - straight,
        3.3 * 0.097_32,
        0.0005,
    );
}

fn pump() -> Pump {
    Pump::new(Flow::litres_an_hour(1000.0), Length::metres(2.5))
}

/// Without a hose, on the straight line between the ratings: at 0.5 m of 2.5 m, four fifths.
#[rstest]
#[case(0.0, 1000.0)]
#[case(0.5, 800.0)]
#[case(2.0, 200.0)]
#[case(2.5, 0.0)]
#[case(3.0, 0.0)]
fn flow_at_a_height(#[case] rise: f64, #[case] flow: f64) {
    close(operating_flow(&pump(), None, rise), flow, 1e-6);
}

#[test]
fn flow_through_a_hose_is_where_lift_and_loss_meet() {
    let hose = Hose {
        bore: mm(16.0),
        length: Length::metres(3.0),
        bends: 4,
        static_head: None,
    };
    let flow = operating_flow(&pump(), Some(&hose), 1.0);
    assert!(flow < operating_flow(&pump(), None, 1.0));
    close(
        head_at(&pump(), flow),
        1.0 + hose_friction_loss(&hose, flow),
        1e-9,
    );
}

#[test]
fn stated_points_of_a_curve_are_kept() {
    let mut pump = pump();
    pump.curve = vec![PumpPoint {
        flow: Flow::litres_an_hour(600.0),
        head: Length::metres(1.6),
    }];
    close(head_at(&pump, 0.0), 2.5, 1e-12);
    close(head_at(&pump, 600.0), 1.6, 1e-12);
    // Half way on to the last point.
    close(head_at(&pump, 800.0), 0.8, 1e-12);
    close(head_at(&pump, 2000.0), 0.0, 0.0);
    close(operating_flow(&pump, None, 1.6), 600.0, 1e-6);
}

/// `A R^(2/3) / D^(8/3)` of full and half-full pipes, Chow 1959, table of circular sections: 0.3117
/// and 0.1558 (from memory); with D = 1 m, slope 1 and Manning's 0.009 that is the flow in m3/s over
/// 0.009.
#[rstest]
#[case(1.0, 0.3117)]
#[case(0.5, 0.1558)]
fn flow_in_a_drain(#[case] filled: f64, #[case] factor: f64) {
    close(manning_flow(1.0, 1.0, filled) / 3.6e6 * 0.009, factor, 5e-5);
}

#[test]
fn a_drain_fills_as_far_as_its_flow_asks() {
    let (bore, slope) = (0.0254, 0.01);
    for filled in [0.1, 0.5, 0.8] {
        let flow = manning_flow(bore, slope, filled);
        close(filled_share(bore, slope, flow).unwrap(), filled, 1e-9);
    }
    // Full, an inch at 1 % carries 0.3117/0.009 * 0.0254^(8/3) * 0.1 m3/s = 695 l/h.
    close(manning_flow(bore, slope, 1.0), 695.0, 1.0);
    assert_eq!(filled_share(bore, slope, 800.0), None);
}

/// 100 l on a quarter of a square metre: 3.92 kN/m2 (rho g V / A at 20 C). Floors of dwellings
/// 2.0 kN/m2: EN 1991-1-1, table 6.2, category A, recommended (from memory).
#[test]
fn a_tank_presses_on_its_floor() {
    let footprint = Footprint {
        length: mm(500.0),
        width: mm(500.0),
    };
    close(floor_pressure(100.0, &footprint), 3.92, 0.01);
    close(FLOOR_LOAD_KN_PER_M2, 2.0, 0.0);
    close(friction::STANDARD_GRAVITY, 9.806_65, 0.0);
}

/// A metre of 110 mm pipe: 1.71 kg by a maker's table for EN 1401, brimful 8.43 l of water or 8.41 kg,
/// and 6 plants of 0.4 kg: 12.5 kg. Half full it holds 4.21 kg of water.
#[test]
fn a_metre_of_tube_weighs() {
    let bank = level(1, 1.0, 103.6, 51.8);
    close(standing_volume(&bank) * WATER_DENSITY, 4.21, 0.02);
    close(
        bank_weight(&bank) - full_volume(&bank) * WATER_DENSITY - 6.0 * 0.4,
        1.71,
        0.02,
    );
    close(bank_weight(&bank), 12.52, 0.02);
}

/// 17 l, of which 4 l go in the 16 hours of light: 4 whole days, and a quarter of the fifth's light.
#[test]
fn roots_stay_wet_for_a_while() {
    close(
        autonomy_hours(17.0, 4.0, 16.0).unwrap(),
        4.0 * 24.0 + 4.0,
        1e-9,
    );
    close(autonomy_hours(3.0, 4.0, 12.0).unwrap(), 9.0, 1e-9);
    close(autonomy_hours(0.0, 4.0, 12.0).unwrap(), 0.0, 0.0);
    assert_eq!(autonomy_hours(3.0, 0.0, 12.0), None);
}
