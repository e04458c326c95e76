//! Scrambled Sobol points: evenly spread sample points of many dimensions.

use pulp::{Arch, NullaryFnOnce};
use std::sync::OnceLock;

/// Coordinates are whole multiples of 2^-32, plus half of that.
const BITS: usize = 32;

/// So many points are drawn at once.
pub const BLOCK: usize = 64;

/// Points of (0, 1)^d, any of them at once by its number.
///
/// Every coordinate alone is stratified: among the first 2^k points there is one in each of the 2^k equal cells, and so
/// in every further block of 2^k. Pairs and more of the first 1,000 dimensions are spread as Sobol's sequence is.
#[derive(Debug, Clone)]
pub struct Points {
    count: usize,
    /// One seed for each dimension.
    seeds: Vec<u32>,
    /// For each dimension that has direction numbers: what the points of a block differ in from its first, bits reversed.
    blocks: Vec<[u32; BLOCK]>,
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
    let within = |directions: &[u32; BITS]| std::array::from_fn(|lane| combine(directions, gray(lane)).reverse_bits());
    let blocks = directions().iter().take(dimensions).map(within).collect();
    Points { count, seeds, blocks }
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

    /// One coordinate of the points from `first` on, a whole number of blocks from the start: the same bits as one by one.
    pub fn coordinates(&self, first: usize, dimension: usize, into: &mut [f64; BLOCK]) {
        self.block(first, dimension, into, |coordinate| coordinate);
    }

    /// The same spread between limits, `centre + limits * (2 coordinate - 1)`.
    pub fn between(&self, first: usize, dimension: usize, [centre, limits]: [f64; 2], into: &mut [f64; BLOCK]) {
        self.block(first, dimension, into, |coordinate| {
            centre + limits * (2.0 * coordinate - 1.0)
        });
    }

    fn block(&self, first: usize, dimension: usize, into: &mut [f64; BLOCK], becomes: impl Fn(f64) -> f64) {
        let known = self.seeds.get(dimension).zip(self.blocks.get(dimension));
        let Some((seed, within)) = known.filter(|_| first.is_multiple_of(BLOCK)) else {
            for (lane, coordinate) in into.iter_mut().enumerate() {
                *coordinate = becomes(self.coordinate(first + lane, dimension));
            }
            return;
        };
        // The Gray codes of a block's numbers are that of its first and those of 0 to 63, side by side.
        let first = bits(first, dimension, *seed).reverse_bits();
        let seed = *seed;
        Arch::new().dispatch(Block {
            first,
            seed,
            within,
            into,
            becomes,
        });
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

/// The direction numbers of one dimension, counted from 0: of 1,000 dimensions there are some.
pub fn direction_numbers(dimension: usize) -> Option<&'static [u32]> {
    directions().get(dimension).map(<[u32; BITS]>::as_slice)
}

/// The middle of the cell of width 2^-32.
#[inline(always)]
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
    scramble_reversed(bits.reverse_bits(), seed)
}

/// The same of bits that are reversed already.
#[inline(always)]
fn scramble_reversed(reversed: u32, seed: u32) -> u32 {
    let mut x = reversed.wrapping_add(seed);
    for factor in [0x6c50_b47c, 0xb82f_1e52, 0xc7af_e638, 0x8d22_f6e6] {
        x ^= x.wrapping_mul(factor);
    }
    x.reverse_bits()
}

/// A block of one dimension, drawn with the processor's widest instructions.
struct Block<'a, F> {
    first: u32,
    seed: u32,
    within: &'a [u32; BLOCK],
    into: &'a mut [f64; BLOCK],
    becomes: F,
}

impl<F: Fn(f64) -> f64> NullaryFnOnce for Block<'_, F> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        for (coordinate, within) in self.into.iter_mut().zip(self.within) {
            *coordinate = (self.becomes)(centred(scramble_reversed(self.first ^ within, self.seed)));
        }
    }
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
