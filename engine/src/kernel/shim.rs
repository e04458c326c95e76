pub enum RootError<E> {
    NoSignChange { low: f64, high: f64 },
    NotFinite,
    Function(E),
}
pub fn root<E>(mut f: impl FnMut(f64) -> Result<f64, E>, lo: f64, hi: f64) -> Result<f64, RootError<E>> {
    let (mut a, mut b) = (lo, hi);
    let fa = f(a).map_err(RootError::Function)?;
    let fb = f(b).map_err(RootError::Function)?;
    if fa * fb > 0.0 {
        return Err(RootError::NoSignChange { low: fa, high: fb });
    }
    for _ in 0..200 {
        let m = 0.5 * (a + b);
        let fm = f(m).map_err(RootError::Function)?;
        if (fm < 0.0) == (fa < 0.0) { a = m } else { b = m }
    }
    Ok(0.5 * (a + b))
}
pub fn maximum<E>(mut f: impl FnMut(f64) -> Result<f64, E>, lo: f64, hi: f64) -> Result<(f64, f64), E> {
    let mut best = (lo, f(lo)?);
    for i in 1..=1000 {
        let x = lo + (hi - lo) * f64::from(i) / 1000.0;
        let y = f(x)?;
        if y > best.1 {
            best = (x, y)
        }
    }
    Ok(best)
}
pub fn quadrature(a: f64, b: f64) -> impl Iterator<Item = (f64, f64)> {
    (0..100).map(move |i| (a + (b - a) * (f64::from(i) + 0.5) / 100.0, (b - a) / 100.0))
}
pub struct Gap {
    pub distance: f64,
    pub normal: [f64; 3],
    pub weights_a: Vec<f64>,
    pub weights_b: Vec<f64>,
}
pub fn gap(_a: &[[f64; 3]], _ra: f64, _b: &[[f64; 3]], _rb: f64) -> Gap {
    Gap {
        distance: 0.0,
        normal: [0.0; 3],
        weights_a: vec![],
        weights_b: vec![],
    }
}
