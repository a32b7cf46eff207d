//! The pages as a browser gets them: what they say, and what holds for each of them.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod html;

use app::{App, Chosen, fixed_clock};
use axum::Router;
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use html::Element;
use std::sync::Arc;
use tower::ServiceExt;

const PAGES: [&str; 9] = [
    "/",
    "/day",
    "/brew",
    "/brews",
    "/brewhouse",
    "/ledger",
    "/cellar",
    "/sheet",
    "/dipstick/kettle",
];

struct Site {
    router: Router,
    app: Arc<App>,
    _folder: tempfile::TempDir,
}

struct Answer {
    status: StatusCode,
    headers: axum::http::HeaderMap,
    body: String,
}

fn site() -> Site {
    let folder = tempfile::tempdir().unwrap();
    let app = Arc::new(App::open(&folder.path().join("u.db"), fixed_clock(0)).unwrap());
    Site { router: web::router(Arc::clone(&app)), app, _folder: folder }
}

impl Site {
    async fn ask(&self, request: Request<Body>) -> Answer {
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (status, headers) = (response.status(), response.headers().clone());
        let bytes = axum::body::to_bytes(response.into_body(), 16 << 20).await.unwrap();
        Answer { status, headers, body: String::from_utf8_lossy(&bytes).into_owned() }
    }

    async fn get(&self, path: &str) -> Answer {
        self.ask(Request::get(path).body(Body::empty()).unwrap()).await
    }

    async fn page(&self, path: &str) -> Element {
        let answer = self.get(path).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}: {}", answer.body);
        html::read(&answer.body)
    }

    async fn page_in(&self, path: &str, units: &str) -> Element {
        let request = Request::get(path).header(header::COOKIE, format!("a=b; units={units}"));
        html::read(&self.ask(request.body(Body::empty()).unwrap()).await.body)
    }

    async fn post(&self, path: &str, form: &str) -> Answer {
        let kind = "application/x-www-form-urlencoded";
        let request = Request::post(path).header(header::CONTENT_TYPE, kind);
        self.ask(request.body(Body::from(form.to_owned())).unwrap()).await
    }
}

#[tokio::test]
async fn every_page_has_one_heading_the_places_and_nothing_inline() {
    let site = site();
    for path in PAGES {
        let page = site.page(path).await;
        assert_eq!(page.named("h1").len(), 1, "{path}");
        assert!(page.named("style").is_empty(), "{path}");
        for element in page.all(&|_| true) {
            for (name, value) in &element.attributes {
                assert!(
                    name != "style" && !name.starts_with("on"),
                    "{path}: {name} of {element:?}"
                );
                assert!(!value.contains("//"), "{path}: {name}={value} leads elsewhere");
            }
        }
        for script in page.named("script") {
            assert!(script.get("src").is_some_and(|src| src.starts_with("/assets/")), "{path}");
        }
        if !path.starts_with("/sheet") && !path.starts_with("/dipstick") {
            let places = page.all(&|element| element.has_class("places"))[0].named("a");
            let names: Vec<String> = places.iter().map(|place| place.text()).collect();
            assert_eq!(names, ["Brewhouse", "Brew", "Day", "Ledger", "Cellar"], "{path}");
            let here: Vec<_> = places.iter().filter(|a| a.get("aria-current").is_some()).collect();
            assert_eq!(here.len(), 1, "{path}");
        }
    }
}

#[tokio::test]
async fn every_drawing_says_what_it_shows_and_ids_are_unique() {
    let site = site();
    for path in PAGES {
        let page = site.page(path).await;
        for drawing in page.named("svg") {
            let hidden = drawing.get("aria-hidden") == Some("true");
            let said = drawing.get("aria-label").is_some_and(|label| !label.is_empty());
            assert!(hidden || said, "{path}: {:?}", drawing.attributes);
        }
        let mut ids: Vec<&str> =
            page.all(&|_| true).iter().filter_map(|element| element.get("id")).collect();
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all, "{path}");
    }
}

#[tokio::test]
async fn every_link_leads_somewhere() {
    let site = site();
    for path in PAGES {
        for link in site.page(path).await.named("a") {
            let to = link.get("href").unwrap();
            if to.starts_with('/') {
                assert_eq!(site.get(to).await.status, StatusCode::OK, "{path} -> {to}");
            }
        }
    }
}

#[tokio::test]
async fn the_first_page_shows_the_pots_the_targets_the_steps_and_the_lanes() {
    let site = site();
    let page = site.page("/").await;
    let planned = site.app.planned(&site.app.chosen().unwrap()).unwrap();
    let planned = planned.as_ref().as_ref().unwrap();
    assert_eq!(page.named("h1")[0].text(), planned.plan.brew);
    let drawings = page.id("section").named("svg");
    let section = drawings[0].get("aria-label").unwrap();
    for vessel in &planned.brewhouse.vessels {
        assert!(section.contains(&vessel.name), "{section}");
    }
    assert!(drawings.iter().any(|svg| svg.has_class("lanes")));
    let gates = page.id("targets").all(&|element| element.has_class("a"));
    assert_eq!(gates.len(), app::rows::aims(&planned.plan.targets).len());
    let steps = page.id("steps").all(&|element| element.has_class("step"));
    assert_eq!(steps.len(), planned.plan.steps.len());
    for (row, step) in steps.iter().zip(&planned.plan.steps) {
        let words = step.words.split(' ').next().unwrap();
        assert!(row.text().contains(words), "{}", row.text());
    }
    let cautions: usize =
        planned.plan.steps.iter().map(|step| app::sheet::cautions_of(step).count()).sum();
    assert!(cautions > 0);
    assert_eq!(page.id("steps").all(&|element| element.has_class("warn")).len(), cautions);
    let notes = app::sheet::notes(&planned.plan, app::UnitSystem::Metric);
    assert_eq!(page.id("all-day").named("li").len(), notes.len());
}

#[tokio::test]
async fn the_lanes_have_a_table_beside_them() {
    let page = site().page("/day").await;
    let twin = page.all(&|element| element.has_class("twin"))[0];
    assert!(twin.named("tr").len() > 5);
    assert!(twin.text().contains("Mash tun") && twin.text().contains("empty"));
}

#[tokio::test]
async fn units_are_chosen_once_and_hold_on_every_page() {
    let site = site();
    let answer = site.post("/units", "units=us&back=%2Fbrew").await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    assert_eq!(answer.headers[header::LOCATION], "/brew");
    let cookie = answer.headers[header::SET_COOKIE].to_str().unwrap();
    assert!(cookie.starts_with("units=us;") && cookie.contains("HttpOnly"), "{cookie}");
    for (units, has, has_not) in [("us", "gal", "°C"), ("metric", "°C", "gal")] {
        let brew = site.page_in("/brew", units).await;
        let text = ["wanted", "liquor", "milestones"].map(|id| brew.id(id).text()).join(" ");
        assert!(text.contains(has) && !text.contains(has_not), "{units}: {text}");
    }
    let elsewhere = site.post("/units", "units=us&back=%2F%2Fevil.example").await;
    assert_eq!(elsewhere.headers[header::LOCATION], "/");
    let nonsense = site.post("/units", "units=stone").await;
    assert!(nonsense.headers.get(header::SET_COOKIE).is_none());
}

#[tokio::test]
async fn another_brew_and_other_pots_can_be_chosen_and_unknown_ones_cannot() {
    let site = site();
    let chosen = site.post("/choose", "brew=cellar-lamp").await;
    assert_eq!(chosen.status, StatusCode::SEE_OTHER);
    let brews = site.page("/brews").await;
    let chips: Vec<&Element> = brews.all(&|element| {
        element.name == "li"
            && !element.all(&|inner| inner.text() == "chosen" && inner.name == "span").is_empty()
    });
    let names: Vec<String> = chips.iter().map(|row| row.named("h3")[0].text()).collect();
    assert_eq!(names, ["Cellar Lamp", "Orchard Shed"]);
    let unknown = site.post("/choose", "brew=nothing").await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
    assert!(unknown.body.contains("Nothing was changed"));
    assert_eq!(site.app.chosen().unwrap().brew, "cellar-lamp");
}

/// Whatever stands in the store, a page answers in words.
#[tokio::test]
async fn every_pair_answers_with_a_page_or_with_a_reason() {
    let site = site();
    for brewhouse in site.app.brewhouses().unwrap() {
        for brew in site.app.brews().unwrap() {
            let pair = Chosen { brewhouse: brewhouse.slug.clone(), brew: brew.slug.clone() };
            site.app.choose(&pair).unwrap();
            for path in ["/day", "/brew", "/ledger", "/sheet"] {
                let answer = site.get(path).await;
                let fine = [StatusCode::OK, StatusCode::UNPROCESSABLE_ENTITY];
                assert!(fine.contains(&answer.status), "{pair:?} {path}: {}", answer.status);
                let page = html::read(&answer.body);
                assert_eq!(page.named("h1").len(), 1, "{pair:?} {path}");
            }
        }
    }
}

#[tokio::test]
async fn the_sheet_has_two_leaves_every_step_and_room_to_write() {
    let site = site();
    let page = site.page("/sheet").await;
    let planned = site.app.planned(&site.app.chosen().unwrap()).unwrap();
    let plan = &planned.as_ref().as_ref().unwrap().plan;
    let leaves = page.all(&|element| element.has_class("leaf"));
    assert_eq!(leaves.len(), 2);
    let done = page.all(&|element| element.has_class("sm"));
    assert_eq!(done.len(), plan.steps.len());
    assert!(
        page.named("svg")
            .iter()
            .any(|svg| { svg.get("aria-label").is_some_and(|label| label.contains("Kettle")) })
    );
    assert!(leaves[1].text().contains("Notes"));
}

#[tokio::test]
async fn the_balances_of_the_ledger_close_on_the_page() {
    let page = site().page("/ledger").await;
    let frames = page.all(&|element| element.has_class("frame"));
    assert_eq!(frames.len(), 3);
    for frame in frames {
        let sums = frame.all(&|element| element.has_class("sum"));
        let last = |row: &Element| row.named("td").last().unwrap().text();
        assert_eq!(last(sums[0]), last(sums[1]), "{}", frame.text());
        assert!(frame.text().contains("Closes"), "{}", frame.text());
    }
}

#[tokio::test]
async fn every_answer_keeps_to_itself() {
    let site = site();
    for path in ["/", "/nowhere", "/dipstick/nothing", "/assets/x/style.css"] {
        let answer = site.get(path).await;
        let policy = answer.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
        assert!(policy.contains("default-src 'none'") && !policy.contains("unsafe"), "{path}");
        assert_eq!(answer.headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
    }
    assert_eq!(site.get("/nowhere").await.status, StatusCode::NOT_FOUND);
    assert_eq!(site.get("/dipstick/nothing").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn another_host_or_another_site_is_refused() {
    let site = site();
    let request = Request::get("/").header(header::HOST, "evil.example");
    let answer = site.ask(request.body(Body::empty()).unwrap()).await;
    assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST);
    let request = Request::post("/choose").header("sec-fetch-site", "cross-site");
    let answer = site.ask(request.body(Body::from("brew=cellar-lamp")).unwrap()).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn files_of_a_page_may_be_kept_for_good_and_hold_no_address_elsewhere() {
    let site = site();
    let page = site.page("/").await;
    let style = page.named("link").iter().find_map(|link| link.get("href")).unwrap().to_owned();
    let answer = site.get(&style).await;
    assert_eq!(answer.headers[header::CONTENT_TYPE], "text/css; charset=utf-8");
    let keep = answer.headers[header::CACHE_CONTROL].to_str().unwrap();
    assert!(keep.contains("immutable"));
    assert!(!answer.body.contains("//"), "the style sheet asks no other host");
    for font in ["cabin", "b612-400", "b612-400i", "b612-700"] {
        let path = style.replace("style.css", &format!("fonts/{font}.woff2"));
        assert_eq!(site.get(&path).await.headers[header::CONTENT_TYPE], "font/woff2");
    }
}

#[tokio::test]
async fn a_sheet_as_a_file_needs_nothing_beside_it() {
    let site = site();
    let planned = site.app.planned(&site.app.chosen().unwrap()).unwrap();
    let planned = planned.as_ref().as_ref().unwrap();
    let sheet = app::sheet_of(planned, 600.0, app::UnitSystem::Metric);
    let file = web::sheet_file(&sheet);
    assert_eq!(file.matches("url(data:font/woff2;base64,").count(), 4);
    assert_eq!(file.matches("url(fonts/").count(), 0);
    assert_eq!(file.matches("http").count(), 0);
    let page = html::read(&file);
    assert!(page.named("link").is_empty() && page.named("script").is_empty());
    let first = page.all(&|element| element.has_class("t"))[0];
    assert_eq!(first.text(), "10:00", "the asked start");
}

/// Everything a reader of a page sees or is told: text, labels, titles.
fn said(page: &Element) -> String {
    let mut text = page.text();
    for element in page.all(&|_| true) {
        for name in ["aria-label", "title", "data-l"] {
            if let Some(value) = element.get(name) {
                text.push('\n');
                text.push_str(value);
            }
        }
    }
    // The switch of units names both systems; heat on a square inch is said in watts.
    text.replace("L, °C, kg", "").replace("gal, °F, lb", "").replace("W/in²", "")
}

/// The first value of a text that has one of these units behind it, or stands alone as a sign.
fn first_with<'a>(text: &'a str, units: &[&str]) -> Option<&'a str> {
    for (at, _) in text.char_indices().filter(|(_, c)| c.is_ascii_digit() || *c == '°') {
        let rest = &text[at..];
        let after = rest.strip_prefix(|c: char| c.is_ascii_digit()).unwrap_or(rest);
        let thin = after.starts_with(['\u{202f}', '\u{a0}']);
        let after = after.trim_start_matches([' ', '\u{202f}', '\u{a0}']);
        for unit in units {
            let Some(end) = after.strip_prefix(unit) else { continue };
            let inch_or_word = *unit == "in" && !thin;
            if !inch_or_word && !end.starts_with(|c: char| c.is_alphanumeric()) {
                let from = text[..at].char_indices().rev().nth(30).map_or(0, |(from, _)| from);
                let to = rest.char_indices().nth(30).map_or(text.len(), |(to, _)| at + to);
                return Some(&text[from..to]);
            }
        }
    }
    None
}

const METRIC: &[&str] = &[
    "°C",
    "°P",
    "L",
    "mL",
    "hL",
    "kg",
    "g",
    "mm",
    "cm",
    "m",
    "kW",
    "W",
    "MJ",
    "kJ",
    "K",
    "bar",
    "EBC",
    "litre",
    "litres",
    "millimetres",
    "metres",
    "degrees Celsius",
];
const US: &[&str] = &[
    "°F", "gal", "qt", "lb", "oz", "fl", "tsp", "in", "ft", "psi", "SRM", "Btu", "kBtu", "quarts",
    "gallon", "gallons", "inches",
];

#[tokio::test]
async fn no_page_and_no_sheet_mixes_two_systems_of_units() {
    let site = site();
    let mut seen = 0;
    for brewhouse in app::demo_brewhouses() {
        for brew in app::demo_brews() {
            let (brewhouse, brew) = (brewhouse.slug, brew.slug);
            let answer = site.post("/choose", &format!("brewhouse={brewhouse}&brew={brew}")).await;
            assert_eq!(answer.status, StatusCode::SEE_OTHER);
            for (units, foreign) in [("us", METRIC), ("metric", US)] {
                for path in ["/day", "/brew", "/brewhouse", "/ledger", "/sheet"] {
                    let text = said(&site.page_in(path, units).await);
                    // A gravity may stand in both: it has no unit in one of them.
                    let found = first_with(&text, foreign);
                    assert_eq!(found, None, "{path} in {units}, {brew} on {brewhouse}");
                    seen += usize::from(text.contains(if units == "us" { "°F" } else { "°C" }));
                }
            }
        }
    }
    assert!(seen >= 25 * 2 * 4, "only {seen} pages have a temperature");
}

#[test]
fn a_foreign_unit_is_found_and_a_word_is_not() {
    assert!(first_with("held at 66\u{202f}°C.", METRIC).is_some());
    assert!(first_with("in °P", METRIC).is_some());
    assert!(first_with("5\u{202f}kg", METRIC).is_some());
    assert!(first_with("7 min, 3 malts", METRIC).is_none());
    assert!(first_with("at 10:15 in the pot", US).is_none());
    assert!(first_with("7 1/2\u{202f}in deep", US).is_some());
}
