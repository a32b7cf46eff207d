//! Peak memory of a process, as the system tells it. Knows Linux only; elsewhere it knows nothing.

/// Largest resident size a process has had, MB; none where `/proc` is not there.
pub(super) fn peak_mb(process: u32) -> Option<f64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    peak_of(&status)
}

fn peak_of(status: &str) -> Option<f64> {
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kib: f64 = line.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(kib * 1024.0 / 1e6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_peak_is_read_from_the_status() {
        let status = "Name:\tx\nVmPeak:\t  9 kB\nVmHWM:\t   25000 kB\n";
        assert_eq!(peak_of(status), Some(25.6));
        assert_eq!(peak_of("Name:\tx\n"), None);
    }
}
