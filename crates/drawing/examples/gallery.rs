//! Writes every drawing of some very different brewhouses into one HTML page, to be looked at:
//! `cargo run -p drawing --example gallery -- out.html style.css`.
//! All numbers in it are invented.

use drawing::*;
use maud::{DOCTYPE, Markup, PreEscaped, html};

fn pot(name: &str, plays: &str, diameter: f64, height: f64, stand: f64) -> VesselView {
    VesselView {
        name: name.into(),
        plays: plays.into(),
        shape: ShapeView {
            inside_diameter_mm: diameter,
            inside_height_mm: height,
            wall_mm: 1.0,
            base_mm: 6.0,
            clad: true,
            base: BaseView::Flat,
        },
        stand_mm: stand,
        ..VesselView::default()
    }
}

fn valve(height_mm: f64, open: bool) -> Option<ValveView> {
    Some(ValveView { height_mm, bore_mm: 15.0, open })
}

fn link(from: usize, to: usize, carried: Carried, substance: Substance) -> LinkView {
    LinkView { from, to, carried, substance, ..LinkView::default() }
}

fn shed(running: bool, show_dimensions: bool) -> SectionView {
    let mut tank = pot("Hot liquor tank", "", 360.0, 374.0, 745.0);
    tank.stand_kind = StandKind::Frame;
    tank.valve = valve(25.0, running);
    tank.thermometer_mm = Some(250.0);
    tank.heater = Heater::Element { height_mm: 42.0, on: !running };
    let mut tun = pot("Mash tun", "", 400.0, 400.0, 330.0);
    tun.valve = valve(35.0, running);
    tun.false_bottom_mm = Some(42.0);
    tun.thermometer_mm = Some(110.0);
    tun.heater = Heater::Burner { lit: false, elsewhere: running };
    let mut kettle = pot("Kettle", "", 400.0, 450.0, 460.0);
    kettle.valve = valve(40.0, false);
    kettle.thermometer_mm = Some(130.0);
    kettle.heater = Heater::Burner { lit: running, elsewhere: false };
    let mut fermenter = pot("Fermenter", "", 300.0, 425.0, 20.0);
    fermenter.airlock = true;
    fermenter.valve = valve(50.0, false);
    if running {
        tank.contents = Contents::Water;
        (tank.level_mm, tank.volume_l, tank.temp_c) = (Some(59.0), Some(6.0), Some(78.5));
        tank.captions = vec!["running to the tun".into()];
        tun.contents = Contents::Mash { bed_mm: 80.0 };
        (tun.level_mm, tun.volume_l, tun.temp_c) = (Some(138.0), Some(17.3), Some(76.0));
        tun.captions = vec!["sparging, 0.61 L/min in".into()];
        kettle.contents = Contents::Wort;
        (kettle.level_mm, kettle.volume_l, kettle.temp_c) = (Some(94.0), Some(11.8), Some(70.6));
    } else {
        tank.captions = vec!["34 L, element 2.8 kW".into()];
        tun.captions = vec!["50 L, false bottom at 42".into()];
    }
    let mut over = link(0, 1, Carried::Pipe, Substance::Water);
    (over.sprinkler, over.flowing) = (true, running);
    let mut off = link(1, 2, Carried::Pump, Substance::Wort);
    off.flowing = running;
    let back = link(1, 1, Carried::Pump, Substance::Wort);
    let out = link(2, 3, Carried::Pipe, Substance::Wort);
    SectionView {
        id: if running { "a".into() } else { "b".into() },
        vessels: vec![tank, tun, kettle, fermenter],
        links: vec![over, off, back, out],
        show_dimensions,
        label: "Section of the brewhouse".into(),
        ..SectionView::default()
    }
}

fn steps() -> SectionView {
    let mut tank = pot("Hot liquor tank", "", 400.0, 400.0, 1118.0);
    tank.heater = Heater::Burner { lit: true, elsewhere: false };
    tank.stand_kind = StandKind::Frame;
    tank.valve = valve(27.0, true);
    tank.thermometer_mm = Some(200.0);
    tank.contents = Contents::Water;
    (tank.level_mm, tank.volume_l, tank.temp_c) = (Some(135.0), Some(17.0), Some(78.5));
    let mut tun = pot("Mash tun", "", 349.0, 400.0, 692.0);
    tun.heater = Heater::Burner { lit: false, elsewhere: false };
    tun.stand_kind = StandKind::Frame;
    tun.valve = valve(33.0, true);
    tun.false_bottom_mm = Some(42.0);
    tun.thermometer_mm = Some(120.0);
    tun.contents = Contents::Mash { bed_mm: 104.0 };
    (tun.level_mm, tun.volume_l, tun.temp_c) = (Some(189.0), Some(18.2), Some(76.8));
    tun.captions = vec!["recirculating by jug".into()];
    let mut kettle = pot("Kettle", "", 400.0, 400.0, 260.0);
    kettle.heater = Heater::Burner { lit: false, elsewhere: false };
    kettle.valve = valve(25.0, false);
    kettle.thermometer_mm = Some(150.0);
    let mut fermenter = pot("Fermenter", "", 298.0, 425.0, -178.0);
    fermenter.airlock = true;
    let mut over = link(0, 1, Carried::Pipe, Substance::Water);
    over.sprinkler = true;
    let mut jug = link(1, 1, Carried::Jug, Substance::Wort);
    jug.flowing = true;
    jug.label = Some("jug 3 of 6, back over the mash".into());
    let mut hose = link(1, 2, Carried::Hose, Substance::Wort);
    hose.label = None;
    SectionView {
        id: "u".into(),
        title: "Three in steps".into(),
        units: Units::Us,
        vessels: vec![tank, tun, kettle, fermenter],
        links: vec![over, jug, hose, link(2, 3, Carried::Hose, Substance::Wort)],
        show_dimensions: true,
        label: "Section of the brewhouse".into(),
    }
}

fn bench() -> SectionView {
    let mut one = pot("The pot", "mash tun, kettle", 260.0, 240.0, 940.0);
    one.heater = Heater::Hob;
    one.bag = true;
    one.thermometer_mm = None;
    one.contents = Contents::Mash { bed_mm: 60.0 };
    (one.level_mm, one.volume_l, one.temp_c) = (Some(170.0), Some(9.0), Some(66.0));
    let mut fermenter = pot("Fermenter", "", 220.0, 300.0, 900.0);
    fermenter.stand_kind = StandKind::Worktop;
    fermenter.airlock = true;
    SectionView {
        id: "w".into(),
        vessels: vec![one, fermenter],
        links: vec![link(0, 1, Carried::Hose, Substance::Wort)],
        show_dimensions: true,
        label: "Section of the bench".into(),
        ..SectionView::default()
    }
}

fn kitchen() -> SectionView {
    let mut pot1 = pot("Stove pot", "hot liquor tank", 300.0, 240.0, 945.0);
    pot1.heater = Heater::Hob;
    pot1.contents = Contents::Water;
    (pot1.level_mm, pot1.volume_l, pot1.temp_c) = (Some(200.0), Some(14.0), Some(75.0));
    let mut tun = pot("Mash tun", "", 300.0, 380.0, 500.0);
    tun.shape.wall_mm = 28.0;
    tun.shape.base_mm = 28.0;
    tun.shape.clad = false;
    tun.stand_kind = StandKind::Table;
    tun.manifold = true;
    tun.lid = Lid::On;
    tun.valve = valve(20.0, false);
    tun.contents = Contents::Mash { bed_mm: 150.0 };
    (tun.level_mm, tun.volume_l, tun.temp_c) = (Some(230.0), Some(16.0), Some(67.0));
    let mut kettle = pot("Kettle", "", 360.0, 360.0, 0.0);
    kettle.insulated = true;
    kettle.heater = Heater::None;
    let mut plate = pot("Plate pot", "kettle", 340.0, 320.0, 960.0);
    plate.heater = Heater::Induction;
    let mut fermenter = pot("Fermenter", "", 290.0, 400.0, 0.0);
    fermenter.airlock = true;
    SectionView {
        id: "k".into(),
        title: "Tiled kitchen".into(),
        units: Units::Us,
        vessels: vec![pot1, plate, tun, kettle, fermenter],
        links: vec![
            link(0, 2, Carried::Jug, Substance::Water),
            link(2, 3, Carried::Hose, Substance::Wort),
            link(3, 4, Carried::Hose, Substance::Wort),
        ],
        show_dimensions: true,
        label: "Section of the kitchen".into(),
    }
}

fn barn() -> SectionView {
    let mut tank = pot("Hot liquor tank", "", 500.0, 500.0, 900.0);
    tank.stand_kind = StandKind::Frame;
    tank.valve = valve(40.0, false);
    tank.heater = Heater::Element { height_mm: 60.0, on: true };
    tank.contents = Contents::Water;
    (tank.level_mm, tank.volume_l, tank.temp_c) = (Some(400.0), Some(80.0), Some(60.0));
    tank.thermometer_mm = Some(60.0);
    let mut tun = pot("Mash tun", "", 560.0, 480.0, 450.0);
    tun.valve = valve(40.0, false);
    tun.false_bottom_mm = Some(50.0);
    tun.insulated = true;
    tun.thermometer_mm = Some(70.0);
    let mut kettle = pot("Kettle", "", 560.0, 560.0, 120.0);
    kettle.heater = Heater::Burner { lit: true, elsewhere: false };
    kettle.valve = valve(40.0, false);
    kettle.thermometer_mm = Some(200.0);
    let mut one = pot("Fermenter 1", "", 400.0, 600.0, 0.0);
    one.airlock = true;
    let mut two = one.clone();
    two.name = "Fermenter 2".into();
    SectionView {
        id: "c".into(),
        vessels: vec![tank, tun, kettle, one, two],
        links: vec![
            link(0, 1, Carried::Pipe, Substance::Water),
            link(1, 2, Carried::Pump, Substance::Wort),
            link(2, 3, Carried::Pump, Substance::Wort),
            link(2, 4, Carried::Pump, Substance::Wort),
        ],
        show_dimensions: true,
        label: "Section of the barn".into(),
        ..SectionView::default()
    }
}

fn span(from_min: f64, to_min: f64, label: &str) -> SpanView {
    SpanView { from_min, to_min, label: label.into() }
}

fn mark(t_min: f64, label: &str) -> MarkView {
    MarkView { t_min, label: label.into() }
}

fn fill(substance: Substance, volume_l: &[(f64, f64)]) -> FillView {
    FillView { substance, volume_l: volume_l.to_vec() }
}

fn rests() -> Vec<(f64, f64)> {
    vec![
        (61.0, 72.0),
        (65.0, 72.0),
        (67.0, 63.5),
        (102.0, 62.7),
        (113.0, 71.4),
        (140.0, 71.3),
        (146.0, 76.6),
        (157.0, 76.5),
        (202.0, 75.2),
    ]
}

fn tank_lane() -> LaneView {
    LaneView {
        name: "Hot liquor tank".into(),
        caption: "34 L".into(),
        capacity_l: 38.0,
        fills: vec![fill(
            Substance::Water,
            &[(10.0, 0.0), (15.0, 32.0), (61.0, 32.0), (65.0, 17.0), (158.0, 17.0), (185.0, 0.5)],
        )],
        temp_c: vec![(12.0, 13.0), (60.0, 72.5), (66.0, 78.5), (185.0, 77.0)],
        ..LaneView::default()
    }
}

fn tun_lane() -> LaneView {
    LaneView {
        name: "Mash tun".into(),
        caption: "50 L".into(),
        capacity_l: 50.0,
        fills: vec![
            fill(Substance::Water, &[(61.0, 0.0), (65.0, 15.0)]),
            fill(
                Substance::Wort,
                &[(65.0, 15.0), (67.0, 18.1), (158.0, 18.0), (185.0, 17.7), (202.0, 5.0)],
            ),
        ],
        temp_c: rests(),
        spans: vec![
            span(67.0, 102.0, "63°, 35 min"),
            span(115.0, 140.0, "72°, 25 min"),
            span(146.0, 152.0, "77°"),
        ],
        ..LaneView::default()
    }
}

fn kettle_lane() -> LaneView {
    LaneView {
        name: "Kettle".into(),
        caption: "56 L".into(),
        capacity_l: 56.0,
        fills: vec![fill(
            Substance::Wort,
            &[
                (157.0, 0.0),
                (202.0, 27.9),
                (210.0, 27.5),
                (270.0, 23.0),
                (310.0, 22.5),
                (324.0, 1.5),
            ],
        )],
        temp_c: vec![
            (158.0, 70.0),
            (196.0, 71.0),
            (210.0, 100.3),
            (270.0, 100.3),
            (285.0, 84.0),
            (300.0, 30.0),
            (310.0, 19.0),
        ],
        spans: vec![span(210.0, 270.0, "boil, 60 min")],
        marks: vec![
            mark(210.0, "22 g"),
            mark(255.0, "28 g"),
            mark(258.0, "moss"),
            mark(270.0, "40 g"),
        ],
        ..LaneView::default()
    }
}

fn fermenter_lane() -> LaneView {
    LaneView {
        name: "Fermenter".into(),
        capacity_l: 30.0,
        fills: vec![fill(Substance::Wort, &[(310.0, 0.0), (324.0, 21.0), (345.0, 21.0)])],
        temp_c: vec![(311.0, 19.2), (345.0, 19.0)],
        axis_c: Some((10.0, 25.0)),
        marks: vec![mark(327.0, "pitch")],
        ..LaneView::default()
    }
}

fn day(units: Units, clock: Clock, id: &str) -> LanesView {
    let pour = |from_lane, to_lane, start_min, end_min, litres, label: &str, substance| PourView {
        from_lane,
        to_lane,
        start_min,
        end_min,
        litres,
        label: label.into(),
        substance,
    };
    LanesView {
        id: id.into(),
        label: "One lane per vessel from water-on to pitching".into(),
        corner: "Saturday".into(),
        start_clock_min: 540.0,
        from_min: 0.0,
        to_min: 345.0,
        lanes: vec![tank_lane(), tun_lane(), kettle_lane(), fermenter_lane()],
        pours: vec![
            pour(0, 1, 61.0, 65.0, 15.0, "15.0 L", Substance::Water),
            pour(0, 1, 158.0, 185.0, 16.5, "16.5 L", Substance::Water),
            pour(1, 2, 157.0, 202.0, 27.9, "27.9 L", Substance::Wort),
            pour(2, 3, 310.0, 324.0, 21.0, "21.0 L", Substance::Wort),
        ],
        flag: Some(mark(176.0, &clock_text(clock))),
        clock,
        units,
    }
}

fn clock_text(clock: Clock) -> String {
    if clock == Clock::H24 { "11:56".into() } else { "11:56 AM".into() }
}

fn stick(units: Units) -> DipstickView {
    let per_mm = if units == Units::Metric { 0.12566 } else { 0.12566 / 3.785 };
    let most = (450.0 * per_mm) as u32;
    let at = |v: f64| v / per_mm;
    DipstickView {
        vessel: "Kettle".into(),
        title: "Kettle, Ø 400 × 450".into(),
        units,
        height_mm: 450.0,
        marks: (0..=most)
            .filter(|v| units == Units::Us || v % 5 == 0)
            .map(|v| ScaleMark { height_mm: at(f64::from(v)), label: v.to_string() })
            .collect(),
        fine_mm: (0..most * 2).map(|v| at(f64::from(v) / 2.0)).collect(),
        notes: vec![
            ScaleMark { height_mm: 222.0, label: "pre-boil, 27.9 L".into() },
            ScaleMark { height_mm: 180.0, label: "chilled, 22.7 L".into() },
        ],
        check_line_mm: 100.0,
    }
}

fn page(style: &str) -> Markup {
    let gates = [Some(21.0), Some(19.6), Some(26.0), None].map(|expected| GateView {
        low: 20.0,
        high: 22.0,
        expected,
        low_text: "20.0".into(),
        high_text: "22.0".into(),
        label: "gate".into(),
    });
    html! {
        (DOCTYPE)
        html lang="en" {
            head { meta charset="utf-8"; title { "Gallery" } style { (PreEscaped(style)) } }
            body { main style="max-width:985px;margin:auto" {
                @let shed = [shed(true, false), shed(false, true)];
                @for view in shed.into_iter().chain([steps(), bench(), kitchen(), barn()]) {
                    figure class="frame" style="padding:16px;margin:16px 0" { (section(&view)) }
                }
                @let metric = day(Units::Metric, Clock::H24, "l");
                @for view in [metric, day(Units::Us, Clock::H12, "m")] {
                    figure class="frame scroll-x" style="padding:16px" { (lanes(&view)) }
                }
                figure style="width:540px" { (curve(&CurveView {
                    id: "r".into(),
                    label: "rests".into(),
                    units: Units::Metric,
                    temp_c: rests()[2..8].to_vec(),
                    rests: vec![
                        span(67.0, 102.0, "63 °C, 35 min"),
                        span(113.0, 140.0, "72 °C, 25 min"),
                        span(146.0, 157.0, "77 °C, 5 min"),
                    ],
                })) }
                div class="gates" { @for view in &gates { figure { (gate(view)) } } }
                @for units in [Units::Metric, Units::Us] {
                    section class="leaf across" {
                        (check_line(&stick(units)))
                        @for piece in dipstick(&stick(units)) { (piece) }
                        div class="mk" { (scale_strip(&stick(units))) }
                    }
                }
            } }
        }
    }
}

fn main() -> std::io::Result<()> {
    let mut arguments = std::env::args().skip(1);
    let out = arguments.next().unwrap_or_else(|| "gallery.html".into());
    let style = arguments.next().map_or(Ok(String::new()), std::fs::read_to_string)?;
    std::fs::write(out, page(&style).into_string())
}
