//! What is said of a pack or a script that is not there: the nearest name, and where packs were looked for.

use super::collection::Collection;
use crankline_engine::diagnostic::{Refusal, nearest};

const ELSEWHERE: &str = "--packs DIR names the folder in which your packs lie";
const ALL: &str = "`crankline list` shows all; a file of your own ends in .rhai, a job in .toml";

/// No pack has this name.
pub(crate) fn no_pack(packs: &Collection, code: &'static str, name: &str) -> Refusal {
    let message = format!("there is no pack `{name}`: {}", looked_in(packs));
    let near = near_pack(packs, name).map(|near| format!("did you mean `{near}`?"));
    Refusal::new(code, message)
        .hint(near.unwrap_or_else(|| "crankline pack list shows all; a sealed one ends in .zip".to_owned()))
        .hint(ELSEWHERE)
}

/// Neither a pack nor a script has this name.
pub(crate) fn nothing_named(packs: &Collection, code: &'static str, name: &str) -> Refusal {
    if name.contains('/') {
        return no_script(packs, name);
    }
    let names = packs.script_names();
    let own = |known: &&String| known.rsplit('/').next() == Some(name);
    let near = names.iter().find(own).cloned().or_else(|| near_pack(packs, name));
    let near = near.or_else(|| nearest(name, names.iter().map(String::as_str)).map(str::to_owned));
    let hint = match near {
        Some(near) => format!("did you mean `{near}`?"),
        None => "a script is PACK/NAME or a file that ends in .rhai, a job one that ends in .toml".to_owned(),
    };
    let message = format!("there is no pack and no script `{name}`: {}", looked_in(packs));
    Refusal::new(code, message).hint(hint).hint(ELSEWHERE)
}

/// No script has this name: the nearest, or the one of that name in another pack, or how to find one.
pub(crate) fn no_script(packs: &Collection, name: &str) -> Refusal {
    let names = packs.script_names();
    let whole = nearest(name, names.iter().map(String::as_str));
    let last = |name: &str| name.rsplit('/').next().unwrap_or("").to_owned();
    let ending = || names.iter().find(|known| last(known) == last(name)).map(String::as_str);
    let known = packs.packs();
    let is_known = |pack: &str| known.iter().any(|known| known.name() == pack);
    let missing = name
        .split_once('/')
        .map(|(pack, _)| pack)
        .filter(|pack| !is_known(pack));
    let Some(pack) = missing else {
        let refusal = Refusal::new("script", format!("there is no script `{name}`"));
        return match whole.or_else(ending) {
            Some(near) => refusal.hint(format!("did you mean `{near}`?")),
            None => refusal.hint(ALL),
        };
    };
    let message = format!(
        "there is no script `{name}`, and no pack `{pack}`: {}",
        looked_in(packs)
    );
    let near = near_pack(packs, pack).map(|near| format!("did you mean the pack `{near}`? crankline describe {near}"));
    let whole = whole.map(|near| format!("did you mean `{near}`?"));
    let ending = || ending().map(|near| format!("did you mean `{near}`?"));
    let hint = whole.or(near).or_else(ending).unwrap_or_else(|| ALL.to_owned());
    Refusal::new("script", message).hint(hint).hint(ELSEWHERE)
}

fn near_pack(packs: &Collection, name: &str) -> Option<String> {
    let known = packs.packs();
    nearest(name, known.iter().map(|pack| pack.name())).map(str::to_owned)
}

/// `looked for in the program, mine and packs`
fn looked_in(packs: &Collection) -> String {
    let places: Vec<&str> = std::iter::once("the program")
        .chain(packs.places().iter().map(String::as_str))
        .collect();
    match places.split_last() {
        Some((last, before)) if !before.is_empty() => format!("looked for in {} and {last}", before.join(", ")),
        _ => format!("looked for in {}", places.join("")),
    }
}
