//! Products that are added up at once.
//!
//! Rows of a block stand in memory, and what a sum of products costs is mostly to put its products down and take them up
//! again: of a scalar product, a cross product, a matrix. A product that one sum alone reads is worked out there. Every
//! operation rounds as before, so the bits stay.

use super::line::{Line, Name, Origin, Work};
use crate::tape::op::Op;

/// A sum with products in it, of rows a, b, c, d.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::tape) enum Fused {
    /// a b + c d
    Products,
    /// a b − c d
    ProductsApart,
    /// a b + c
    ProductPlus,
    /// a b − c
    ProductMinus,
    /// c − a b
    LessProduct,
}

/// The lines with products drawn into the sums that read them. `wanted` names stay.
pub(super) fn fused(lines: Vec<Line>, origins: &[Origin], wanted: impl Iterator<Item = Name>) -> Vec<Line> {
    let products = products(&lines, origins, wanted);
    let mut drawn_in = vec![false; origins.len()];
    let mut done: Vec<Line> = Vec::with_capacity(lines.len());
    for line in &lines {
        let product = |position: usize| -> Option<[Name; 2]> {
            let name = *line.arguments.get(position)?;
            products.get(name as usize).copied().flatten()
        };
        let Some((fused, arguments, taken)) = sum_of(line, product(0), product(1), origins) else {
            done.push(line.clone());
            continue;
        };
        for name in taken.into_iter().flatten() {
            drawn_in[name as usize] = true;
        }
        done.push(Line {
            work: Work::Fused(fused),
            arguments,
            results: line.results.clone(),
            after: line.after,
        });
    }
    done.retain(|line| {
        !(matches!(line.work, Work::Op(Op::Mul)) && line.results.iter().all(|name| drawn_in[*name as usize]))
    });
    done
}

/// For each name the factors, where it is a product of rows that one line alone reads, once.
fn products(lines: &[Line], origins: &[Origin], wanted: impl Iterator<Item = Name>) -> Vec<Option<[Name; 2]>> {
    let mut readers = vec![0_u32; origins.len()];
    for name in lines.iter().flat_map(|line| &line.arguments) {
        readers[*name as usize] += 1;
    }
    for name in wanted {
        readers[name as usize] += 2;
    }
    let mut products = vec![None; origins.len()];
    for line in lines {
        let (Work::Op(Op::Mul), &[a, b], &[result]) = (&line.work, &line.arguments[..], &line.results[..]) else {
            continue;
        };
        if readers[result as usize] == 1 && is_row(a, origins) && is_row(b, origins) {
            products[result as usize] = Some([a, b]);
        }
    }
    products
}

fn is_row(name: Name, origins: &[Origin]) -> bool {
    !matches!(origins[name as usize], Origin::Known(_))
}

type Sum = (Fused, Vec<Name>, [Option<Name>; 2]);

/// A sum or difference whose sides are products: what becomes of it, its arguments, the products drawn in.
fn sum_of(line: &Line, left: Option<[Name; 2]>, right: Option<[Name; 2]>, origins: &[Origin]) -> Option<Sum> {
    let minus = match line.work {
        Work::Op(Op::Add) => false,
        Work::Op(Op::Sub) => true,
        _ => return None,
    };
    let &[x, y] = &line.arguments[..] else { return None };
    match (left, right) {
        (Some([a, b]), Some([c, d])) => {
            let fused = if minus { Fused::ProductsApart } else { Fused::Products };
            Some((fused, vec![a, b, c, d], [Some(x), Some(y)]))
        }
        (Some([a, b]), None) if is_row(y, origins) => {
            let fused = if minus { Fused::ProductMinus } else { Fused::ProductPlus };
            Some((fused, vec![a, b, y], [Some(x), None]))
        }
        (None, Some([a, b])) if is_row(x, origins) => {
            let fused = if minus { Fused::LessProduct } else { Fused::ProductPlus };
            Some((fused, vec![a, b, x], [None, Some(y)]))
        }
        _ => None,
    }
}
