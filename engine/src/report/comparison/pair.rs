//! What stands in both records, or in one alone.

use std::collections::BTreeMap;

/// A thing of A beside that of B: at least one is there.
#[derive(Clone, Debug)]
pub(super) struct Pair<T> {
    pub(super) a: Option<T>,
    pub(super) b: Option<T>,
}

impl<T> Pair<T> {
    pub(super) const fn both(&self) -> Option<(&T, &T)> {
        match (&self.a, &self.b) {
            (Some(a), Some(b)) => Some((a, b)),
            _ => None,
        }
    }

    /// Whichever is there, that of A first.
    pub(super) fn any(&self) -> Option<&T> {
        self.a.as_ref().or(self.b.as_ref())
    }
}

/// Pairs of one key, the nth of A with the nth of B, in the order of A; what B alone has stands last.
pub(super) fn paired<T: Clone>(a: &[T], b: &[T], key: impl Fn(&T) -> &str) -> Vec<Pair<T>> {
    let numbered = |items: &[T]| -> Vec<(String, usize)> {
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        let number = |item: &T| {
            let own = key(item).to_owned();
            let number = seen.entry(own.clone()).or_insert(0);
            *number += 1;
            (own, *number)
        };
        items.iter().map(number).collect()
    };
    let mut rest: BTreeMap<(String, usize), &T> = numbered(b).into_iter().zip(b).collect();
    let of_a = numbered(a).into_iter().zip(a).map(|(key, item)| Pair {
        a: Some(item.clone()),
        b: rest.remove(&key).cloned(),
    });
    let mut pairs: Vec<Pair<T>> = of_a.collect();
    let of_b = numbered(b).into_iter().zip(b);
    pairs.extend(of_b.filter(|(key, _)| rest.contains_key(key)).map(|(_, item)| Pair {
        a: None,
        b: Some(item.clone()),
    }));
    pairs
}

/// Pairs up what has no partner yet: items of one key of which either record has exactly one left.
pub(super) fn pair_rest<T: Clone>(pairs: &mut Vec<Pair<T>>, key: impl Fn(&T) -> Option<&str>) {
    let mut at = 0;
    while at < pairs.len() {
        let partner = partner(pairs, at, &key);
        if let Some(partner) = partner {
            let b = pairs.remove(partner).b;
            if let Some(pair) = pairs.get_mut(at) {
                pair.b = b;
            }
        }
        at += 1;
    }
}

/// The one place where B has, alone, the key that A has alone at a place; always further down, where B's own stand.
fn partner<T>(pairs: &[Pair<T>], at: usize, key: &impl Fn(&T) -> Option<&str>) -> Option<usize> {
    let lone = |pair: &Pair<T>, of_a: bool| -> Option<String> {
        let found = match (&pair.a, &pair.b, of_a) {
            (Some(a), None, true) => a,
            (None, Some(b), false) => b,
            _ => return None,
        };
        key(found).map(str::to_owned)
    };
    let own = lone(pairs.get(at)?, true)?;
    let with = |of_a: bool| -> Vec<usize> {
        let places = pairs.iter().enumerate();
        let found = places.filter(|(_, pair)| lone(pair, of_a).as_ref() == Some(&own));
        found.map(|(place, _)| place).collect()
    };
    match (with(true).as_slice(), with(false).as_slice()) {
        ([_], [partner]) if *partner > at => Some(*partner),
        _ => None,
    }
}
