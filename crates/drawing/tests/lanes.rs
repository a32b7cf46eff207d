//! The lanes, the curve and the dipstick say what their views say.

mod reader;

use drawing::*;
use reader::{Element, read, texts};

fn two_lanes() -> LanesView {
    LanesView {
        id: "n".into(),
        label: "One lane per vessel".into(),
        start_clock_min: 540.0,
        to_min: 120.0,
        lanes: vec![
            LaneView {
                name: "Tank".into(),
                capacity_l: 40.0,
                fills: vec![FillView {
                    substance: Substance::Water,
                    volume_l: vec![(0.0, 40.0), (60.0, 40.0), (75.0, 30.0), (120.0, 30.0)],
                }],
                ..LaneView::default()
            },
            LaneView {
                name: "Tun".into(),
                caption: "50 L".into(),
                capacity_l: 20.0,
                fills: vec![FillView {
                    substance: Substance::Wort,
                    volume_l: vec![(60.0, 0.0), (75.0, 10.0), (120.0, 10.0)],
                }],
                temp_c: vec![
                    (60.0, 66.0),
                    (90.0, 66.0),
                    (91.0, f64::NAN),
                    (92.0, 60.0),
                    (120.0, 60.0),
                ],
                axis_c: Some((60.0, 70.0)),
                spans: vec![SpanView {
                    from_min: 75.0,
                    to_min: 105.0,
                    label: "66°, 30 min".into(),
                }],
                marks: vec![MarkView { t_min: 110.0, label: "22 g".into() }],
            },
        ],
        pours: vec![PourView {
            from_lane: 0,
            to_lane: 1,
            start_min: 60.0,
            end_min: 75.0,
            litres: 10.0,
            label: "10.0 L".into(),
            substance: Substance::Water,
        }],
        ..LanesView::default()
    }
}

fn drawn(view: &LanesView) -> Vec<Element> {
    read(&lanes(view).into_string())
}

fn of_class<'a>(elements: &'a [Element], class: &str) -> Vec<&'a Element> {
    elements.iter().filter(|e| e.has_class(class)).collect()
}

#[test]
fn each_falling_line_is_one_litre_from_the_ground_of_the_upper_lane() {
    let view = two_lanes();
    let elements = drawn(&view);
    let lines = of_class(&elements, "pour");
    assert_eq!(lines.len(), 10);
    assert_eq!(falling_line(&view), "one litre");
    let ground = of_class(&elements, "base")[0].number("y1");
    assert!(lines.iter().all(|l| (l.number("y1") - ground - 1.0).abs() < 0.11));
    // The vessel fills while it falls: each line is shorter than the one before.
    assert!(lines.windows(2).all(|w| w[0].number("y2") > w[1].number("y2")));
}

#[test]
fn falling_lines_stand_for_more_where_they_would_run_together() {
    let mut view = two_lanes();
    view.pours[0].litres = 800.0;
    assert_eq!(falling_line(&view), "five litres");
    assert_eq!(of_class(&drawn(&view), "pour").len(), 160);
    view.pours[0].litres = 37.854_117_84;
    view.units = Units::Us;
    assert_eq!(falling_line(&view), "one quart");
    assert_eq!(of_class(&drawn(&view), "pour").len(), 40);
}

#[test]
fn a_volume_has_its_height_and_everything_is_pencil() {
    let elements = drawn(&two_lanes());
    let ground: Vec<f64> = of_class(&elements, "base").iter().map(|e| e.number("y1")).collect();
    let fills = of_class(&elements, "vol");
    assert!(fills.iter().all(|f| f.has_class("exp")));
    let height = |e: &Element, ground: f64| {
        ground - e.way().chunks(2).map(|p| p[1]).fold(f64::INFINITY, f64::min)
    };
    // The tank is full, the tun half full.
    let (full, half) = (height(fills[0], ground[0]), height(fills[1], ground[1]));
    assert!((half - full / 2.0).abs() < 0.11, "{half} of {full}");
    assert!(of_class(&elements, "temp").iter().all(|t| t.has_class("exp")));
    assert!(of_class(&elements, "pour").iter().all(|t| t.has_class("exp")));
}

#[test]
fn a_gap_parts_the_temperature_line() {
    let elements = drawn(&two_lanes());
    let lines = of_class(&elements, "temp");
    assert_eq!(lines.len(), 2);
    let (a, b) = (lines[0].way(), lines[1].way());
    // 66 of 60..70 °C stands at six tenths of the axis, 60 at its foot.
    let ticks: Vec<f64> = elements
        .iter()
        .filter(|e| e.has_class("l-thin") && e.name == "line")
        .map(|e| e.number("y1"))
        .collect();
    let (foot, top) = (ticks[0], ticks[ticks.len() - 1]);
    assert!((a[1] - (foot - (foot - top) * 0.6)).abs() < 0.21, "{a:?} {ticks:?}");
    assert!((b[1] - foot).abs() < 0.11);
}

#[test]
fn the_axis_says_clock_times_in_the_readers_way() {
    let mut view = two_lanes();
    let said = texts(&drawn(&view));
    assert!(["09:00", "10:00", "11:00", "70 °C"].iter().all(|t| said.contains(&(*t).into())));
    (view.clock, view.units) = (Clock::H12, Units::Us);
    view.start_clock_min = 660.0;
    let said = texts(&drawn(&view));
    assert!(["11 AM", "noon", "1 PM"].iter().all(|t| said.contains(&(*t).into())), "{said:?}");
    assert!(said.iter().any(|t| t.ends_with("°F")));
}

#[test]
fn a_span_reaches_from_its_begin_to_its_end() {
    let elements = drawn(&two_lanes());
    let span = elements.iter().find(|e| e.has_class("l-dim") && e.name == "line").expect("drawn");
    let base = of_class(&elements, "base")[0];
    let minute = (base.number("x2") - base.number("x1")) / 120.0;
    assert!((span.number("x1") - base.number("x1") - 75.0 * minute).abs() < 0.11);
    assert!((span.number("x2") - base.number("x1") - 105.0 * minute).abs() < 0.11);
    let said = texts(&elements);
    assert!(
        ["Tank", "Tun", "50 L", "66°, 30 min", "22 g", "10.0 L"]
            .iter()
            .all(|t| said.contains(&(*t).into()))
    );
}

#[test]
fn a_hidden_clock_time_gives_way_to_the_flag() {
    let mut view = two_lanes();
    view.flag = Some(MarkView { t_min: 62.0, label: "10:02".into() });
    let elements = drawn(&view);
    let said = texts(&elements);
    assert!(said.contains(&"10:02".into()) && !said.contains(&"10:00".into()));
    assert_eq!(of_class(&elements, "scrub").len(), 1);
}

#[test]
fn the_curve_letters_its_axis_in_the_readers_degrees() {
    let view = CurveView {
        label: "Mash rests: 63 degrees for 35 minutes, 72 for 25".into(),
        temp_c: vec![(0.0, 63.0), (35.0, 63.0), (45.0, 72.0), (70.0, 72.0)],
        rests: vec![SpanView { from_min: 0.0, to_min: 35.0, label: "63 °C, 35 min".into() }],
        ..CurveView::default()
    };
    let elements = read(&curve(&view).into_string());
    assert_eq!(elements[0].get("aria-label"), view.label);
    let way = of_class(&elements, "temp")[0].way();
    assert_eq!(way.len(), 8);
    assert!(way[1] == way[3] && way[5] < way[3] && way[0] < way[2]);
    assert!((way[2] - way[0]) / (way[6] - way[0]) - 0.5 < 1e-2);
    assert!(texts(&elements).contains(&"70".into()));
    let us = read(&curve(&CurveView { units: Units::Us, ..view }).into_string());
    let said = texts(&us);
    assert!(said.contains(&"°F".into()) && said.contains(&"150".into()), "{said:?}");
}

fn stick() -> DipstickView {
    let mark = |litres: u32| ScaleMark {
        height_mm: f64::from(litres) / 0.125_663_7,
        label: litres.to_string(),
    };
    DipstickView {
        vessel: "Kettle".into(),
        title: "Kettle, Ø 400 × 450".into(),
        height_mm: 450.0,
        marks: (0..=55).step_by(5).map(mark).collect(),
        fine_mm: vec![50.0],
        notes: vec![ScaleMark { height_mm: 300.0, label: "pre-boil".into() }],
        check_line_mm: 100.0,
        ..DipstickView::default()
    }
}

#[test]
fn the_dipstick_is_true_to_size_in_pieces_that_fit_the_page() {
    let pieces: Vec<Vec<Element>> =
        dipstick(&stick()).iter().map(|p| read(&p.clone().into_string())).collect();
    assert_eq!(pieces.len(), 2);
    for piece in &pieces {
        assert_eq!(piece[0].get("width"), "248mm");
        assert!(piece[0].get("viewBox").starts_with("0 0 248 "));
        assert!(piece.iter().all(|e| e.name != "line" || e.number("x2") <= 248.0));
    }
    let at = |piece: &[Element], text: &str, nth: usize| -> f64 {
        let found = piece.iter().filter(|e| e.text == text).nth(nth).expect(text);
        let turned = found.get("transform").trim_start_matches("translate(");
        turned.split(' ').next().expect("a part").parse().expect("a number")
    };
    // Between two figures of the millimetre scale lies just as much paper.
    assert!((at(&pieces[0], "230", 0) - at(&pieces[0], "80", 0) - 150.0).abs() < 0.011);
    assert!((at(&pieces[1], "450", 0) - at(&pieces[1], "220", 0) - 230.0).abs() < 0.011);
    // The second piece repeats 20 of the first one's 236 mm: it begins at 216, after 6 mm of blank.
    assert!((at(&pieces[1], "220", 0) - 10.0).abs() < 0.011);
    // 10 L of a kettle 400 mm wide stand 79.58 mm high; "0" of both scales stand together.
    let zero = at(&pieces[0], "0", 0);
    assert_eq!(zero, at(&pieces[0], "0", 1));
    let ten: Vec<f64> = (0..2).map(|n| at(&pieces[0], "10", n) - zero).collect();
    assert!(ten.contains(&10.0) && ten.iter().any(|x| (x - 79.58).abs() < 0.011), "{ten:?}");
    // The level of the day is on the second piece only.
    assert!(!texts(&pieces[0]).contains(&"pre-boil".into()));
    assert!(texts(&pieces[1]).contains(&"pre-boil".into()));
}

#[test]
fn an_inch_stick_has_an_inch_between_its_figures() {
    let view = DipstickView { units: Units::Us, marks: vec![], notes: vec![], ..stick() };
    let piece = read(&dipstick(&view)[0].clone().into_string());
    let x: Vec<f64> = piece
        .iter()
        .filter(|e| e.name == "text")
        .map(|e| {
            e.get("transform")[10..].split(' ').next().expect("a part").parse().expect("a number")
        })
        .collect();
    assert_eq!(x.len(), 10); // 0 to 9 inches on 236 mm
    assert!(x.windows(2).all(|w| (w[1] - w[0] - 25.4).abs() < 0.011), "{x:?}");
}

#[test]
fn the_check_line_is_as_long_as_it_says() {
    let line = read(&check_line(&stick()).into_string());
    assert_eq!(line[0].get("width"), "100mm");
    assert_eq!(line[0].get("viewBox"), "0 0 100 4");
    assert_eq!(line[0].get("aria-label"), "A line of 100 millimetres");
}

#[test]
fn the_strip_sets_volumes_over_dips() {
    let elements = read(&scale_strip(&stick()).into_string());
    let said = texts(&elements);
    // 5 L and 20 L of a kettle 400 mm wide: 39.8 and 159.2 mm.
    for (litres, dip) in [("5", "40"), ("20", "159")] {
        let at = said.iter().position(|t| t == litres).expect("drawn");
        assert_eq!(said[at + 1], dip);
    }
}
