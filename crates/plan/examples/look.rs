//! look
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let bh = brewhouse::read(&a[1], &std::fs::read_to_string(&a[1]).unwrap()).unwrap();
    let br = brew::read(&a[2], &std::fs::read_to_string(&a[2]).unwrap()).unwrap();
    let t = std::time::Instant::now();
    match plan::solve(&bh, &br) { Ok(p) => { eprintln!("{:?} {}", t.elapsed(), plan::search_report(&bh, &br)); for s in &p.steps { println!("{:7.1} {:7.1} {:<18} {} | {:?} | {}", s.starts_min, s.ends_min, s.id, s.words, s.expected.iter().map(|e| format!("{} {} {}", e.instrument, e.value, e.unit)).collect::<Vec<_>>(), s.cautions.iter().map(|c| c.id.clone()).collect::<Vec<_>>().join(" ")); } println!("{}", serde_json::to_string_pretty(&(&p.targets, &p.amounts, &p.milestones, &p.fuel, &p.unmoved, &p.assumed, &p.caveats)).unwrap()); }, Err(e) => println!("error {e}") }
}
