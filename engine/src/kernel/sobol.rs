//! Scrambled Sobol points: evenly spread sample points of many dimensions.

use std::sync::OnceLock;

/// Coordinates are whole multiples of 2^-32, plus half of that.
const BITS: usize = 32;

/// Points of (0, 1)^d, any of them at once by its number.
///
/// Every coordinate alone is stratified: among the first 2^k points there is one in each of the 2^k equal cells, and so
/// in every further block of 2^k. Pairs and more of the first 1,000 dimensions are spread as Sobol's sequence is.
#[derive(Debug, Clone)]
pub struct Points {
    count: usize,
    /// One seed for each dimension.
    seeds: Vec<u32>,
}

/// `count` points of `dimensions` coordinates, the same for the same seed.
///
/// Sobol's sequence with the direction numbers of S. Joe and F. Y. Kuo ("Constructing Sobol sequences with better
/// two-dimensional projections", SIAM Journal on Scientific Computing 30, 2008, the set new-joe-kuo-6), in Gray code
/// order, scrambled after A. B. Owen by a hash (B. Burley, "Practical hash-based Owen scrambling", Journal of Computer
/// Graphics Techniques 9(4), 2020), and moved to the middle of its cells of 2^-32, so that no coordinate is 0 or 1.
/// Beyond 1,000 dimensions a coordinate is the first dimension's with its points shuffled by the same hash (padding, as
/// in the same paper): still stratified alone, but no better than random with others.
///
/// More than 2^32 points repeat.
pub fn points(dimensions: usize, count: usize, seed: u64) -> Points {
    let seeds = (0..dimensions as u64)
        .map(|dimension| (mix(seed ^ mix(dimension)) >> 32) as u32)
        .collect();
    Points { count, seeds }
}

impl Points {
    /// The number of coordinates of a point.
    pub fn dimensions(&self) -> usize {
        self.seeds.len()
    }

    /// The number of points.
    pub fn count(&self) -> usize {
        self.count
    }

    /// One coordinate of one point, both counted from 0: above 0 and below 1. NaN for a dimension there is not.
    pub fn coordinate(&self, point: usize, dimension: usize) -> f64 {
        match self.seeds.get(dimension) {
            Some(&seed) => centred(scramble(bits(point, dimension, seed), seed)),
            None => f64::NAN,
        }
    }

    /// All coordinates of one point.
    pub fn point(&self, point: usize) -> Vec<f64> {
        (0..self.dimensions())
            .map(|dimension| self.coordinate(point, dimension))
            .collect()
    }

    /// The points one after the other.
    pub fn iter(&self) -> impl Iterator<Item = Vec<f64>> + '_ {
        (0..self.count).map(|point| self.point(point))
    }
}

/// One coordinate of Sobol's sequence without scrambling, in [0, 1); both counted from 0, fewer than 1,000 dimensions.
///
/// NaN for a dimension there is not.
pub fn unscrambled(point: usize, dimension: usize) -> f64 {
    match directions().get(dimension) {
        Some(directions) => f64::from(combine(directions, gray(point))) / 4_294_967_296.0,
        None => f64::NAN,
    }
}

/// The middle of the cell of width 2^-32.
fn centred(bits: u32) -> f64 {
    (f64::from(bits) + 0.5) / 4_294_967_296.0
}

fn bits(point: usize, dimension: usize, seed: u32) -> u32 {
    match directions().get(dimension) {
        Some(directions) => combine(directions, gray(point)),
        // The first dimension's sequence is the number of the point with its bits reversed.
        None => scramble(point as u32, !seed).reverse_bits(),
    }
}

/// The reflected binary code of a number: neighbours differ in one bit.
fn gray(point: usize) -> u32 {
    let point = point as u32;
    point ^ (point >> 1)
}

/// The exclusive or of the direction numbers that the bits choose.
fn combine(directions: &[u32; BITS], chosen: u32) -> u32 {
    let mut combined = 0;
    for (bit, direction) in directions.iter().enumerate() {
        combined ^= direction * (chosen >> bit & 1);
    }
    combined
}

/// Owen's nested scrambling, approximated by a hash in which a bit depends on the bits above it only (S. Laine and
/// T. Karras, with the constants of Burley's paper).
fn scramble(bits: u32, seed: u32) -> u32 {
    let mut x = bits.reverse_bits().wrapping_add(seed);
    for factor in [0x6c50_b47c, 0xb82f_1e52, 0xc7af_e638, 0x8d22_f6e6] {
        x ^= x.wrapping_mul(factor);
    }
    x.reverse_bits()
}

/// The finaliser of SplitMix64 (G. L. Steele, D. Lea and C. H. Flood, "Fast splittable pseudorandom number generators",
/// 2014).
fn mix(x: u64) -> u64 {
    let x = x.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let x = (x ^ (x >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let x = (x ^ (x >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    x ^ (x >> 31)
}

/// The direction numbers of the first 1,000 dimensions, read once.
fn directions() -> &'static [[u32; BITS]] {
    static DIRECTIONS: OnceLock<Vec<[u32; BITS]>> = OnceLock::new();
    DIRECTIONS.get_or_init(|| {
        let parameters = sobol::params::JoeKuoD6::standard();
        let dimensions = parameters.max_dims;
        let all = sobol::Sobol::<u32>::init_direction_vals::<u32>(dimensions, BITS, &parameters);
        let whole = all
            .iter()
            .map(|numbers| std::array::from_fn(|bit| numbers.get(bit).copied().unwrap_or(0)));
        whole.collect()
    })
}
