//! What is told of a script before it is run is what it does when it is.

use crankline_engine::outcome::CheckKind;
use crankline_engine::script::{Bindings, Library, Stated};
use crankline_engine::tape::Recording;
use crankline_scripts::Shipped;
use std::rc::Rc;

/// Every check and every assumption of a run stands in the outline, with a label and a source where it has one.
#[test]
fn an_outline_has_what_a_run_yields() {
    let library = Library::new(Rc::new(Shipped));
    let mut compared = 0;
    for name in crankline_scripts::script_names() {
        let text = crankline_scripts::script(&name).unwrap();
        let known_as = text.name.clone();
        let outline = library.outline(text.clone());
        assert!(outline.unread.is_none(), "{name}: {:?}", outline.unread);
        let program = library.compile(text).unwrap_or_else(|error| panic!("{error}"));
        let finished = library.run(&program, Bindings::new(), &Rc::new(Recording::open()), 0, None);
        let outcome = finished.unwrap_or_else(|error| panic!("{error}")).outcome;
        let has = |stated: &Stated, opening: &str| stated.clause(opening).is_some();
        for check in &outcome.checks {
            let keyword = match check.kind {
                CheckKind::Check => "check",
                CheckKind::Prefer => "prefer",
                CheckKind::Require => "require",
            };
            let Some(place) = check.place.as_ref().filter(|place| place.source.name == known_as) else {
                continue;
            };
            let mut stated = outline.statements.iter();
            let stated = stated.find(|stated| stated.line == place.line && stated.keyword == keyword);
            let stated = stated.unwrap_or_else(|| panic!("{name}, line {}: no {keyword}", place.line));
            assert_eq!(has(stated, "per"), check.per.is_some(), "{name}: {stated:?}");
            assert_eq!(has(stated, ":"), check.label.is_some(), "{name}: {stated:?}");
            compared += 1;
        }
        for input in outcome.inputs.iter().filter(|input| input.assumed) {
            let mut stated = outline.statements.iter();
            let stated =
                stated.find(|stated| stated.keyword == "assume" && stated.name.as_deref() == Some(input.name.as_str()));
            let stated = stated.unwrap_or_else(|| panic!("{name}: no assumption `{}`", input.name));
            assert_eq!(has(stated, "per"), input.per.is_some(), "{name}: {stated:?}");
            assert_eq!(has(stated, ":"), input.label.is_some(), "{name}: {stated:?}");
            compared += 1;
        }
    }
    assert!(compared > 300, "{compared}");
}
