//! The section says what the view says: every vessel, to one scale, at its own height.

mod reader;

use drawing::*;
use reader::{Element, read, texts};

fn pot(name: &str, diameter: f64, height: f64, stand: f64) -> VesselView {
    VesselView {
        name: name.into(),
        shape: ShapeView {
            inside_diameter_mm: diameter,
            inside_height_mm: height,
            wall_mm: 1.0,
            base_mm: 1.0,
            clad: false,
            base: BaseView::Flat,
        },
        stand_mm: stand,
        ..VesselView::default()
    }
}

fn three() -> SectionView {
    let mut tank = pot("Hot liquor tank", 360.0, 374.0, 745.0);
    tank.stand_kind = StandKind::Frame;
    tank.valve = Some(ValveView { height_mm: 25.0, bore_mm: 15.0, open: false });
    tank.contents = Contents::Water;
    (tank.level_mm, tank.volume_l, tank.temp_c) = (Some(187.0), Some(19.04), Some(78.4));
    let mut tun = pot("Mash tun", 400.0, 400.0, 330.0);
    tun.valve = Some(ValveView { height_mm: 35.0, bore_mm: 15.0, open: false });
    tun.false_bottom_mm = Some(42.0);
    tun.thermometer_mm = Some(110.0);
    tun.contents = Contents::Mash { bed_mm: 80.0 };
    (tun.level_mm, tun.volume_l, tun.temp_c) = (Some(160.0), Some(20.1), Some(66.0));
    let kettle = pot("Kettle & lid", 450.0, 500.0, 0.0);
    SectionView {
        id: "x".into(),
        vessels: vec![tank, tun, kettle],
        links: vec![
            LinkView { from: 0, to: 1, sprinkler: true, ..LinkView::default() },
            LinkView { from: 1, to: 2, carried: Carried::Pump, ..LinkView::default() },
        ],
        label: "Section of the shed".into(),
        ..SectionView::default()
    }
}

fn drawn(view: &SectionView) -> Vec<Element> {
    read(&section(view).into_string())
}

/// Left, right, rim and base of every cut wall, from left to right.
fn walls(elements: &[Element]) -> Vec<[f64; 4]> {
    let cut = elements.iter().filter(|e| e.has_class("l-cut"));
    let mut walls: Vec<[f64; 4]> = cut.map(|e| e.way()).map(|w| [w[0], w[4], w[1], w[3]]).collect();
    walls.sort_by(|a, b| a[0].total_cmp(&b[0]));
    walls
}

fn close(a: f64, b: f64) {
    // Two coordinates rounded to a tenth each.
    assert!((a - b).abs() < 0.21, "{a} is not {b}");
}

#[test]
fn one_scale_holds_for_all_vessels_in_both_directions() {
    let view = three();
    let walls = walls(&drawn(&view));
    assert_eq!(walls.len(), 3);
    let scale = (walls[0][1] - walls[0][0]) / 360.0;
    for (wall, vessel) in walls.iter().zip(&view.vessels) {
        close(wall[1] - wall[0], vessel.shape.inside_diameter_mm * scale);
        close(wall[3] - wall[2], vessel.shape.inside_height_mm * scale);
    }
    // The heights of the stands, seen from the kettle on the ground.
    close(walls[2][3] - walls[0][3], 745.0 * scale);
    close(walls[2][3] - walls[1][3], 330.0 * scale);
}

#[test]
fn the_scale_bar_measures_the_vessels() {
    let view = three();
    let elements = drawn(&view);
    let bar: Vec<&Element> =
        elements.iter().filter(|e| e.name == "rect" && e.number("height") == 5.0).collect();
    assert_eq!(bar.len(), 4);
    let long: f64 = bar.iter().map(|e| e.number("width")).sum();
    let said = texts(&elements).into_iter().find(|t| t.ends_with(" mm")).expect("drawn");
    let mm: f64 = said.trim_end_matches(" mm").parse().expect("a number");
    let wall = walls(&elements)[1];
    assert!((long / mm - (wall[1] - wall[0]) / 400.0).abs() < 2e-3);
}

#[test]
fn a_level_stands_at_its_height_and_the_bed_on_the_false_bottom() {
    let elements = drawn(&three());
    let walls = walls(&elements);
    let levels: Vec<&Element> = elements.iter().filter(|e| e.has_class("l-level")).collect();
    assert_eq!(levels.len(), 2);
    assert!(levels[0].has_class("i-water") && levels[1].has_class("i-wort"));
    // 187 of 374 mm: half way up; 160 of 400.
    close(levels[0].number("y1"), (walls[0][2] + walls[0][3]) / 2.0);
    close(levels[1].number("y1"), walls[1][3] - (walls[1][3] - walls[1][2]) * 0.4);
    let bed = elements.iter().find(|e| e.has_class("bed")).expect("drawn");
    let floor = elements.iter().find(|e| e.has_class("l-fb")).expect("drawn");
    close(bed.number("y") + bed.number("height"), floor.number("y1"));
    close(bed.number("height"), (walls[1][3] - walls[1][2]) * 80.0 / 400.0);
}

#[test]
fn a_gravity_pipe_leaves_at_the_height_of_its_valve() {
    let elements = drawn(&three());
    let walls = walls(&elements);
    let pipe = elements.iter().find(|e| e.has_class("pipe-o")).expect("drawn").way();
    let scale = (walls[0][1] - walls[0][0]) / 360.0;
    close(pipe[1], walls[0][3] - 25.0 * scale);
    // It ends over the middle of the tun, below the rim and above the mash.
    close(pipe[pipe.len() - 2], (walls[1][0] + walls[1][1]) / 2.0);
    let end = pipe[pipe.len() - 1];
    assert!(walls[1][2] < end && end < walls[1][3] - 160.0 * scale);
}

#[test]
fn the_sentence_says_vessels_volumes_and_degrees() {
    let view = three();
    let svg = &drawn(&view)[0];
    assert_eq!(svg.get("role"), "img");
    assert_eq!(
        svg.get("aria-label"),
        "Section of the shed. Hot liquor tank 19.0 litres at 78 degrees, \
         Mash tun 20.1 litres at 66 degrees, Kettle & lid empty."
    );
    let us = SectionView { units: Units::Us, ..view };
    // 19.04 L are 5.030 US gallons, to the nearest twentieth 5.05; 78.4 °C are 173.1 °F.
    assert!(drawn(&us)[0].get("aria-label").contains("tank 5.05 gallons at 173 degrees"));
}

#[test]
fn every_name_stands_below_and_markup_in_a_name_stays_text() {
    let mut view = three();
    view.vessels[2].name = "<script>\"x\"&\u{0}".into();
    view.vessels[2].captions = vec!["</svg>".into()];
    let svg = section(&view).into_string();
    assert!(!svg.contains("<script") && svg.matches("</svg>").count() == 1);
    let texts = texts(&read(&svg));
    for name in ["Hot liquor tank", "Mash tun", "<script>\"x\"&", "</svg>"] {
        assert!(texts.iter().any(|t| t == name), "{name} not in {texts:?}");
    }
}

#[test]
fn dimensions_are_whole_millimetres_or_inches_to_a_sixteenth() {
    let mut view = three();
    view.show_dimensions = true;
    let metric = texts(&drawn(&view));
    for text in ["Ø 360", "Ø 450", "374", "500", "745", "330"] {
        assert!(metric.iter().any(|t| t == text), "{text} not in {metric:?}");
    }
    view.units = Units::Us;
    let us = texts(&drawn(&view));
    // 360 mm = 14.17 in, 745 mm = 29.33 in, 400 mm = 15.75 in.
    for text in ["Ø 14 3/16 in", "29 5/16 in", "15 ¾ in"] {
        assert!(us.iter().any(|t| t == text), "{text} not in {us:?}");
    }
}

#[test]
fn a_vessel_in_a_step_down_stands_below_the_ground_of_the_others() {
    let mut view = three();
    view.vessels[2].stand_mm = -200.0;
    let elements = drawn(&view);
    let scale = (walls(&elements)[0][1] - walls(&elements)[0][0]) / 360.0;
    let ground = elements.iter().find(|e| e.has_class("l-ground")).expect("drawn").way();
    let (first, last) = (ground[1], ground[ground.len() - 1]);
    close(last - first, 200.0 * scale);
}

#[test]
fn a_worktop_that_carries_everything_is_the_ground() {
    let mut view = three();
    view.links.clear();
    for v in &mut view.vessels {
        (v.stand_mm, v.stand_kind) = (900.0, StandKind::Worktop);
    }
    let elements = drawn(&view);
    assert!(texts(&elements).iter().any(|t| t == "worktop, 900 above the floor"));
    assert!(!elements.iter().any(|e| e.has_class("earth")));
}

#[test]
fn every_reference_finds_its_pattern_and_ids_begin_as_asked() {
    let svg = section(&three()).into_string();
    let elements = read(&svg);
    for piece in svg.split("url(#").skip(1) {
        let id = piece.split(')').next().expect("a part");
        assert!(id.starts_with('x'));
        assert!(elements.iter().any(|e| e.get("id") == id), "{id} is nowhere");
    }
}

#[test]
fn all_is_on_the_sheet_and_neighbours_keep_apart() {
    for n in 1..=9 {
        let vessels = (0..n)
            .map(|i| {
                let size = 200.0 + 60.0 * f64::from(i);
                let mut v = pot(&format!("Vessel {i}"), size, size, 100.0 * f64::from(i));
                v.thermometer_mm = Some(50.0);
                v.valve = Some(ValveView { height_mm: 20.0, ..ValveView::default() });
                v
            })
            .collect();
        let links = (1..n as usize)
            .map(|i| LinkView { from: i - 1, to: i, carried: Carried::Pump, ..LinkView::default() })
            .collect();
        let view = SectionView { vessels, links, show_dimensions: true, ..SectionView::default() };
        let elements = drawn(&view);
        let frame: Vec<f64> =
            elements[0].get("viewBox").split(' ').map(|s| s.parse().expect("a number")).collect();
        let walls = walls(&elements);
        assert_eq!(walls.len(), n as usize);
        assert!(walls[0][0] > 0.0 && walls[walls.len() - 1][1] < frame[2], "{n}: {walls:?}");
        assert!(walls.windows(2).all(|w| w[0][1] + 40.0 < w[1][0]), "{n}: {walls:?}");
        assert!(walls.iter().all(|w| w[2] > 40.0 && w[3] < frame[3]), "{n}: {walls:?}");
    }
}

#[test]
fn what_is_level_with_a_worktop_shows_how_high_it_is() {
    // One pot on a plate at 920 mm, the fermenter beside it at 900: the worktop is at 900.
    let mut one = pot("The pot", 241.0, 224.0, 920.0);
    one.heater = Heater::Induction;
    let mut two = pot("Fermenter", 190.0, 260.0, 900.0);
    two.stand_kind = StandKind::Table;
    let view = SectionView { vessels: vec![one, two], ..SectionView::default() };
    let elements = drawn(&view);
    assert!(texts(&elements).iter().any(|t| t == "worktop, 900 above the floor"));
    let walls = walls(&elements);
    let scale = (walls[0][1] - walls[0][0]) / 241.0;
    close(walls[1][3] - walls[0][3], 20.0 * scale);
}

/// The line of a cone runs from the wall at its depth to the tip, and no liquid stands outside.
#[test]
fn a_cone_and_a_dish_are_drawn_as_they_are() {
    for base in [BaseView::Cone { depth_mm: 200.0 }, BaseView::Round { depth_mm: 100.0 }] {
        let mut view = three();
        view.vessels.truncate(1);
        view.links.clear();
        view.vessels[0].shape.base = base;
        let elements = drawn(&view);
        let wall = elements.iter().find(|e| e.has_class("l-cut")).unwrap().way();
        let points: Vec<(f64, f64)> = wall.chunks(2).map(|p| (p[0], p[1])).collect();
        let (left, right) = (points[0].0, points[points.len() - 1].0);
        let lowest = points.iter().copied().fold((0.0, 0.0), |a, b| if b.1 > a.1 { b } else { a });
        close(lowest.0, (left + right) / 2.0);
        let water = elements.iter().find(|e| e.has_class("w-water")).unwrap().way();
        for point in water.chunks(2) {
            assert!(left - 0.1 <= point[0] && point[0] <= right + 0.1);
            assert!(point[1] <= lowest.1 + 0.1);
        }
        // Half of the depth: a cone is half as wide there, half an ellipse √3/2.
        let (rim, scale) = (points[0].1, (lowest.1 - points[0].1) / 374.0);
        let (depth, part) = match base {
            BaseView::Cone { depth_mm } => (depth_mm, 0.5),
            BaseView::Round { depth_mm } => (depth_mm, 0.75_f64.sqrt()),
            BaseView::Flat => (0.0, 1.0),
        };
        let y = rim + (374.0 - depth / 2.0) * scale;
        let next = points[1..].windows(2).find(|p| p[0].1 <= y && y <= p[1].1).unwrap();
        let share = (y - next[0].1) / (next[1].1 - next[0].1);
        let x = next[0].0 + share * (next[1].0 - next[0].0);
        let half = (right - left) / 2.0;
        assert!(((lowest.0 - x) / half - part).abs() < 0.03, "{base:?}: {x}");
    }
}
