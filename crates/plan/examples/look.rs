//! look
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let bh = brewhouse::read(&a[1], &std::fs::read_to_string(&a[1]).unwrap()).unwrap();
    let br = brew::read(&a[2], &std::fs::read_to_string(&a[2]).unwrap()).unwrap();
    match plan::look(&bh, &br) {
        Ok(s) => println!("{s}"),
        Err(e) => println!("error {e}"),
    }
}
