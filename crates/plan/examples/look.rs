//! look
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let bh = brewhouse::read(&a[1], &std::fs::read_to_string(&a[1]).unwrap()).unwrap();
    let br = brew::read(&a[2], &std::fs::read_to_string(&a[2]).unwrap()).unwrap();
    let (s, p) = plan::day_of(&bh, &br).unwrap();
    let o = day::simulate::Options::default();
    let n = 300;
    let t = std::time::Instant::now();
    let mut w = None;
    for _ in 0..n { w = Some(day::simulate::simulate(&s, &p, &o).unwrap().work); }
    println!("{:?} {:?}", t.elapsed() / n, w);
}
