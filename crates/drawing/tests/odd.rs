//! No view, however odd, makes a drawing panic or write a number that is none.

mod reader;

use drawing::*;
use proptest::prelude::*;
use reader::read;

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -1e3..2e3_f64,
        1 => proptest::num::f64::ANY,
        1 => Just(0.0),
        1 => prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(-1e300), Just(1e300)],
    ]
}

fn maybe() -> impl Strategy<Value = Option<f64>> {
    proptest::option::of(number())
}

fn vessel() -> impl Strategy<Value = VesselView> {
    let heater = prop_oneof![
        Just(Heater::None),
        Just(Heater::Hob),
        Just(Heater::Induction),
        (number(), any::<bool>()).prop_map(|(height_mm, on)| Heater::Element { height_mm, on }),
        (any::<bool>(), any::<bool>())
            .prop_map(|(lit, elsewhere)| Heater::Burner { lit, elsewhere }),
    ];
    let contents = prop_oneof![
        Just(Contents::Empty),
        Just(Contents::Water),
        Just(Contents::Wort),
        number().prop_map(|bed_mm| Contents::Mash { bed_mm }),
    ];
    let stand = prop_oneof![
        Just(StandKind::Ground),
        Just(StandKind::Frame),
        Just(StandKind::Table),
        Just(StandKind::Worktop),
    ];
    let shape = (number(), number(), number(), number(), any::<bool>());
    let fitted = (maybe(), maybe(), maybe(), maybe(), maybe(), maybe());
    (".{0,12}", shape, number(), stand, heater, contents, fitted, any::<[bool; 4]>()).prop_map(
        |(name, shape, stand_mm, stand_kind, heater, contents, fitted, flags)| VesselView {
            name: name.clone(),
            plays: String::new(),
            shape: ShapeView {
                inside_diameter_mm: shape.0,
                inside_height_mm: shape.1,
                wall_mm: shape.2,
                base_mm: shape.3,
                clad: shape.4,
                base: [
                    BaseView::Flat,
                    BaseView::Round { depth_mm: shape.3 },
                    BaseView::Cone { depth_mm: shape.0 },
                ][usize::from(flags[2]) + usize::from(flags[3])],
            },
            stand_mm,
            stand_kind,
            valve: fitted.0.map(|mm| ValveView { height_mm: mm, bore_mm: mm, open: flags[0] }),
            false_bottom_mm: fitted.1,
            manifold: flags[1],
            bag: flags[2],
            thermometer_mm: fitted.2,
            heater,
            lid: if flags[3] { Lid::On } else { Lid::None },
            airlock: flags[0],
            insulated: flags[1],
            level_mm: fitted.3,
            contents,
            volume_l: fitted.4,
            temp_c: fitted.5,
            captions: vec![name],
        },
    )
}

fn link() -> impl Strategy<Value = LinkView> {
    let carried = prop_oneof![
        Just(Carried::Pipe),
        Just(Carried::Hose),
        Just(Carried::Pump),
        Just(Carried::Jug),
    ];
    (0..6_usize, 0..6_usize, carried, any::<bool>(), any::<bool>()).prop_map(
        |(from, to, carried, sprinkler, flowing)| LinkView {
            from,
            to,
            carried,
            sprinkler,
            substance: Substance::Wort,
            flowing,
            label: sprinkler.then(|| "a <b> & c".to_owned()),
        },
    )
}

fn series() -> impl Strategy<Value = Vec<(f64, f64)>> {
    proptest::collection::vec((number(), number()), 0..6)
}

fn lane() -> impl Strategy<Value = LaneView> {
    (number(), series(), series(), proptest::option::of((number(), number())), ".{0,9}").prop_map(
        |(capacity_l, volume_l, temp_c, axis_c, name)| LaneView {
            caption: name.clone(),
            capacity_l,
            spans: volume_l
                .iter()
                .map(|p| SpanView { from_min: p.0, to_min: p.1, label: name.clone() })
                .collect(),
            marks: temp_c.iter().map(|p| MarkView { t_min: p.0, label: name.clone() }).collect(),
            fills: vec![FillView { substance: Substance::Wort, volume_l }],
            temp_c,
            axis_c,
            name,
        },
    )
}

fn units() -> impl Strategy<Value = Units> {
    prop_oneof![Just(Units::Metric), Just(Units::Us)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_section_is_a_drawing(
        vessels in proptest::collection::vec(vessel(), 0..5),
        links in proptest::collection::vec(link(), 0..6),
        units in units(),
        show_dimensions in any::<bool>(),
        id in ".{0,8}",
    ) {
        let names: Vec<String> = vessels.iter().map(|v| v.name.clone()).collect();
        let view = SectionView {
            id, units, vessels, links, show_dimensions, title: "t".into(), label: "l".into(),
        };
        let svg = section(&view).into_string();
        let elements = read(&svg);
        for name in names {
            let no_text = |c: &char| c.is_control() || ('\u{fffe}'..='\u{ffff}').contains(c);
            let plain: String = name.chars().filter(|c| !no_text(c)).collect();
            let said = elements[0].get("aria-label").contains(&plain);
            prop_assert!(said);
        }
        prop_assert!(svg.len() < 400_000);
    }

    #[test]
    fn any_lanes_are_a_drawing(
        lanes_of in proptest::collection::vec(lane(), 0..4),
        pours in proptest::collection::vec(
            (0..5_usize, 0..5_usize, number(), number(), number()), 0..4),
        times in (number(), number(), number()),
        units in units(),
        twelve in any::<bool>(),
    ) {
        let pours = pours.into_iter().map(|(from_lane, to_lane, start_min, end_min, litres)| {
            PourView {
                from_lane, to_lane, start_min, end_min, litres,
                label: "1 L".into(), substance: Substance::Water,
            }
        });
        let view = LanesView {
            id: "n".into(), label: "l".into(), corner: "c".into(),
            start_clock_min: times.0, from_min: times.1, to_min: times.2,
            lanes: lanes_of, pours: pours.collect(),
            flag: Some(MarkView { t_min: times.0, label: "now".into() }),
            clock: if twelve { Clock::H12 } else { Clock::H24 },
            units,
        };
        let svg = lanes(&view).into_string();
        read(&svg);
        prop_assert!(svg.len() < 400_000);
    }

    #[test]
    fn any_curve_gate_and_dipstick_is_a_drawing(
        temp_c in series(),
        heights in proptest::collection::vec(number(), 0..6),
        height_mm in number(),
        check_line_mm in number(),
        expected in maybe(),
        units in units(),
    ) {
        let rests: Vec<SpanView> = temp_c.iter()
            .map(|p| SpanView { from_min: p.1, to_min: p.0, label: "63°".into() }).collect();
        read(&curve(&CurveView { id: "c".into(), label: "l".into(), units, temp_c, rests })
            .into_string());
        let (low, high) = (height_mm, check_line_mm);
        read(&gate(&GateView { low, high, expected, ..GateView::default() }).into_string());
        let marks: Vec<ScaleMark> = heights.iter()
            .map(|mm| ScaleMark { height_mm: *mm, label: "5".into() }).collect();
        let view = DipstickView {
            vessel: "V".into(), title: "V".into(), units, height_mm, marks: marks.clone(),
            fine_mm: heights, notes: marks, check_line_mm,
        };
        for piece in dipstick(&view) {
            read(&piece.into_string());
        }
        read(&check_line(&view).into_string());
        read(&scale_strip(&view).into_string());
    }
}

#[test]
fn nothing_at_all_is_still_a_drawing() {
    read(&section(&SectionView::default()).into_string());
    read(&lanes(&LanesView::default()).into_string());
    read(&curve(&CurveView::default()).into_string());
    read(&gate(&GateView::default()).into_string());
    assert_eq!(dipstick(&DipstickView::default()).len(), 1);
}
