//! The same calculation by hand: plain scalar Rust, the standard library's functions.

/// Means of the seven results over `count` samples, drawn from limits around these readings.
pub(crate) fn means(count: usize) -> [f64; 7] {
    let mut random = Random(2026);
    let mut sums = [0.0; 7];
    for _ in 0..count {
        let mut drawn = NOMINAL;
        for (value, limits) in drawn.iter_mut().zip(LIMITS) {
            *value += limits * (2.0 * random.next() - 1.0);
        }
        for (sum, result) in sums.iter_mut().zip(calculate(&drawn)) {
            *sum += result;
        }
    }
    sums.map(|sum| sum / count as f64)
}

/// Falls and plans of gearbox and pinion, the two joint centres, the yokes' phase; rad and m.
pub(crate) const NOMINAL: [f64; 11] = [
    3.4 * DEGREE,
    -1.3 * DEGREE,
    2.6 * DEGREE,
    0.0,
    0.905,
    0.022,
    -0.070,
    1.750,
    0.0,
    -0.120,
    0.0,
];

/// Their ±.
pub(crate) const LIMITS: [f64; 11] = [
    0.1 * DEGREE,
    0.15 * DEGREE,
    0.1 * DEGREE,
    0.15 * DEGREE,
    1e-3,
    1e-3,
    1e-3,
    1e-3,
    1e-3,
    1e-3,
    0.5 * DEGREE,
];

const DEGREE: f64 = std::f64::consts::PI / 180.0;
const TOP: f64 = 4500.0 * std::f64::consts::PI / 30.0;

/// Angles of both joints, from one bend plane to the other, the residual, three accelerations.
pub(crate) fn calculate(read: &[f64; 11]) -> [f64; 7] {
    let gearbox = level(read[0], read[1]);
    let pinion = level(read[2], read[3]);
    let apart = [read[7] - read[4], read[8] - read[5], read[9] - read[6]];
    let length = norm(apart);
    let shaft = apart.map(|part| part / length);
    let (first, second) = (cross(gearbox, shaft), cross(shaft, pinion));
    let front = norm(first).atan2(dot(gearbox, shaft));
    let rear = norm(second).atan2(dot(shaft, pinion));
    let planes = dot(shaft, cross(first, second)).atan2(dot(first, second));
    let (half_front, half_rear) = ((front / 2.0).tan(), (rear / 2.0).tan());
    let (k1, k2) = (4.0 * half_front * half_front, 4.0 * half_rear * half_rear);
    let squared = (k1 * k1 + k2 * k2 - 2.0 * k1 * k2 * (2.0 * (read[10] - planes)).cos()).sqrt();
    let square = TOP * TOP;
    [
        front,
        rear,
        planes,
        squared.sqrt(),
        square * squared,
        square * k1,
        square * k2,
    ]
}

fn level(fall: f64, plan: f64) -> [f64; 3] {
    [fall.cos() * plan.cos(), fall.cos() * plan.sin(), -fall.sin()]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn norm(a: [f64; 3]) -> f64 {
    dot(a, a).sqrt()
}

/// SplitMix64, from 0 to 1.
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut x = self.0;
        x = (x ^ (x >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        x = (x ^ (x >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        x ^= x >> 31;
        (x >> 11) as f64 / (1_u64 << 53) as f64
    }
}
