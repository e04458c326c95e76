//! A frame near the limit of what is taken.

use super::bench::{ALL, Bench, within};
use crankline_engine::structure::Structure;

#[test]
fn large_frame_is_in_equilibrium() {
    let bench = Bench::new();
    let (tube, steel) = (bench.tube(0.03, 0.002), bench.steel());
    let name = |i: usize, j: usize, k: usize| format!("{i} {j} {k}");
    let mut f = Structure::new();
    let mut members = 0;
    for (i, j, k) in (0..20).flat_map(|i| (0..6).flat_map(move |j| (0..6).map(move |k| (i, j, k)))) {
        let here = name(i, j, k);
        f.node(&here, bench.v([i as f64, 0.9 * j as f64, 0.8 * k as f64]))
            .unwrap();
        for (di, dj, dk) in [(1, 0, 0), (0, 1, 0), (0, 0, 1)] {
            if i >= di && j >= dj && k >= dk {
                members += 1;
                f.member(
                    &members.to_string(),
                    &name(i - di, j - dj, k - dk),
                    &here,
                    tube,
                    steel,
                    None,
                )
                .unwrap();
            }
        }
        if i == 0 {
            f.support(&here, &ALL).unwrap();
        }
    }
    assert_eq!(members, 1884);
    f.force(&name(19, 0, 5), bench.v([30.0, 1000.0, -2000.0])).unwrap();
    let sums = f.solve().unwrap().only_case().unwrap().equilibrium();
    // Moments of about 40 kN·m.
    for sum in bench.read(&[sums.force, sums.moment].concat()) {
        within(sum, 0.0, 1e-5);
    }
}
