//! Angles in radians from their sine, cosine or tangent.

const HALF_PI_HIGH: f64 = std::f64::consts::FRAC_PI_2;
const HALF_PI_LOW: f64 = 6.123233995736766e-17;

/// Angle in [-π/2, π/2] whose sine is `x`; NaN outside [-1, 1].
///
/// Source: FDLIBM `e_asin.c`; both of its cases are computed and one is taken.
#[inline(always)]
pub fn asin(x: f64) -> f64 {
    let magnitude = x.abs();
    let small = magnitude < 0.5;
    let z = if small {
        magnitude * magnitude
    } else {
        (1.0 - magnitude) * 0.5
    };
    let r = arc_polynomial(z);
    let near_zero = magnitude + magnitude * r;

    let root = z.sqrt();
    let near_one = HALF_PI_HIGH - (2.0 * (root + root * r) - HALF_PI_LOW);
    let (head, tail) = root_in_halves(z, root);
    let between =
        0.5 * HALF_PI_HIGH - ((2.0 * root * r - (HALF_PI_LOW - 2.0 * tail)) - (0.5 * HALF_PI_HIGH - 2.0 * head));
    let large = if magnitude > 0.975 { near_one } else { between };
    (if small { near_zero } else { large }).copysign(x)
}

/// Angle in [0, π] whose cosine is `x`; NaN outside [-1, 1].
///
/// Source: FDLIBM `e_acos.c`; all three of its cases are computed and one is taken.
#[inline(always)]
pub fn acos(x: f64) -> f64 {
    let magnitude = x.abs();
    let small = magnitude < 0.5;
    let z = if small {
        magnitude * magnitude
    } else {
        (1.0 - magnitude) * 0.5
    };
    let r = arc_polynomial(z);
    let middle = HALF_PI_HIGH - (x - (HALF_PI_LOW - x * r));

    let root = z.sqrt();
    let (head, tail) = root_in_halves(z, root);
    let right = 2.0 * (head + (r * root + tail));
    let left = 2.0 * (HALF_PI_HIGH - (root + (r * root - HALF_PI_LOW)));
    let large = if x < 0.0 { left } else { right };
    if small { middle } else { large }
}

/// Angle in (-π/2, π/2) whose tangent is `x`; ±π/2 for the infinities.
///
/// Source: FDLIBM `s_atan.c`: one of five reductions is selected before the one division.
#[inline(always)]
pub fn atan(x: f64) -> f64 {
    const HALF: (f64, f64) = (0.4636476090008061, 2.2698777452961687e-17); // atan(1/2)
    const ONE: (f64, f64) = (std::f64::consts::FRAC_PI_4, 3.061616997868383e-17); // atan(1)
    const ONE_AND_HALF: (f64, f64) = (0.982793723247329, 1.3903311031230998e-17); // atan(3/2)
    const INFINITE: (f64, f64) = (HALF_PI_HIGH, HALF_PI_LOW);

    let a = x.abs();
    let (below_1, below_2, below_3, below_4) = (a < 0.4375, a < 0.6875, a < 1.1875, a < 2.4375);
    let select = |v1: f64, v2: f64, v3: f64, v4: f64, v5: f64| {
        let v = if below_4 { v4 } else { v5 };
        let v = if below_3 { v3 } else { v };
        let v = if below_2 { v2 } else { v };
        if below_1 { v1 } else { v }
    };
    let numerator = select(a, 2.0 * a - 1.0, a - 1.0, a - 1.5, -1.0);
    let denominator = select(1.0, 2.0 + a, a + 1.0, 1.0 + 1.5 * a, a);
    let high = select(0.0, HALF.0, ONE.0, ONE_AND_HALF.0, INFINITE.0);
    let low = select(0.0, HALF.1, ONE.1, ONE_AND_HALF.1, INFINITE.1);

    let t = numerator / denominator;
    let angle = high - ((t * arctangent_polynomial(t) - low) - t);
    angle.copysign(x)
}

/// `p` in atan(t) = t - t·p(t), for `|t|` up to 7/16: FDLIBM `s_atan.c`.
#[inline(always)]
pub(super) fn arctangent_polynomial(t: f64) -> f64 {
    const A0: f64 = 0.3333333333333293;
    const A1: f64 = -0.19999999999876483;
    const A2: f64 = 0.14285714272503466;
    const A3: f64 = -0.11111110405462356;
    const A4: f64 = 0.09090887133436507;
    const A5: f64 = -0.0769187620504483;
    const A6: f64 = 0.06661073137387531;
    const A7: f64 = -0.058335701337905735;
    const A8: f64 = 0.049768779946159324;
    const A9: f64 = -0.036531572744216916;
    const A10: f64 = 0.016285820115365782;

    let z = t * t;
    let w = z * z;
    let even = z * (A0 + w * (A2 + w * (A4 + w * (A6 + w * (A8 + w * A10)))));
    let odd = w * (A1 + w * (A3 + w * (A5 + w * (A7 + w * A9))));
    even + odd
}

/// `r` in asin(x) = x + x·r(x²), for x² up to 1/4: FDLIBM `e_asin.c`.
#[inline(always)]
fn arc_polynomial(z: f64) -> f64 {
    const P0: f64 = 0.16666666666666666;
    const P1: f64 = -0.3255658186224009;
    const P2: f64 = 0.20121253213486293;
    const P3: f64 = -0.04005553450067941;
    const P4: f64 = 0.0007915349942898145;
    const P5: f64 = 3.479331075960212e-05;
    const Q1: f64 = -2.403394911734414;
    const Q2: f64 = 2.0209457602335057;
    const Q3: f64 = -0.6882839716054533;
    const Q4: f64 = 0.07703815055590194;

    let p = z * (P0 + z * (P1 + z * (P2 + z * (P3 + z * (P4 + z * P5)))));
    let q = 1.0 + z * (Q1 + z * (Q2 + z * (Q3 + z * Q4)));
    p / q
}

/// √z as its upper half of the bits and what is missing, given the rounded root.
#[inline(always)]
fn root_in_halves(z: f64, root: f64) -> (f64, f64) {
    let head = f64::from_bits(root.to_bits() & 0xFFFF_FFFF_0000_0000);
    let divisor = root + head;
    let divisor = if divisor == 0.0 { 1.0 } else { divisor };
    (head, (z - head * head) / divisor)
}
