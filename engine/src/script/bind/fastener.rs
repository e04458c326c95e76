//! Threads and bolt grades; the tables are in [`crate::fastener`].

use crate::diagnostic::Refusal;
use crate::fastener::{self, BoltGrade, Thread};
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("fasteners");
    threads(functions);
    grades(functions);
}

fn threads(functions: &mut Functions) {
    functions.add(
        "thread_form(designation)",
        "A standard thread: thread_form(\"1/2-13 UNC\"), thread_form(\"M10x1.5\"); `.stress_area .pitch .major \
         .pitch_diameter`.",
        |a| fastener::thread_form(&value::text(&a[0], "the designation of a thread")?).map(Dynamic::from),
    );
    functions.add("thread_names()", "The designations of all threads, for one_of.", |_| {
        Ok(super::texts(fastener::thread_names()))
    });
    functions
        .property::<Thread>(
            "thread.stress_area",
            "Tensile stress area, by the thread's standard.",
            |thread| Ok(Dynamic::from(thread.stress_area())),
        )
        .property::<Thread>("thread.pitch", "From one thread to the next.", |thread| {
            Ok(Dynamic::from(thread.pitch()))
        })
        .property::<Thread>("thread.major", "Nominal (largest) diameter.", |thread| {
            Ok(Dynamic::from(thread.major()))
        })
        .property::<Thread>(
            "thread.pitch_diameter",
            "Basic pitch diameter of a 60° thread, d - 0.649519 P (ISO 724, ASME B1.1).",
            |thread| Ok(Dynamic::from(thread.pitch_diameter())),
        )
        .property::<Thread>("thread.name", "A thread's designation, a text.", |thread| {
            Ok(Dynamic::from(thread.name().to_owned()))
        });
}

fn grades(functions: &mut Functions) {
    functions.add(
        "bolt_grade(name)",
        "A bolt grade: bolt_grade(\"SAE J429 8\"), bolt_grade(\"ISO 898-1 10.9\"); `.proof .yield_strength \
         .ultimate_strength`, each a stress, hold for its first sizes; larger bolts of some inch grades are weaker: \
         `.for_thread(thread)`.",
        |a| fastener::bolt_grade(&value::text(&a[0], "the name of a bolt grade")?).map(Dynamic::from),
    );
    functions.add(
        "bolt_grade_names()",
        "The names of all bolt grades, for one_of.",
        |_| Ok(super::texts(fastener::bolt_grade_names())),
    );
    functions.add(
        "bolt_grade.for_thread(thread)",
        "The grade as it is for a bolt of this thread. A thread of the other system, or larger than the standard covers, is \
         refused.",
        |a| {
            let grade: BoltGrade = value::typed(&a[0], "this", "a bolt grade")?;
            grade.of(&taken(&a[1])?).map(Dynamic::from)
        },
    );
    functions
        .property::<BoltGrade>(
            "bolt_grade.proof",
            "Proof strength: the stress without lasting stretch.",
            |grade| Ok(Dynamic::from(grade.proof())),
        )
        .property::<BoltGrade>("bolt_grade.yield_strength", "Least yield strength.", |grade| {
            Ok(Dynamic::from(grade.yield_strength()))
        })
        .property::<BoltGrade>("bolt_grade.ultimate_strength", "Least tensile strength.", |grade| {
            Ok(Dynamic::from(grade.ultimate_strength()))
        })
        .property::<BoltGrade>(
            "bolt_grade.sizes",
            "The largest diameter for which these strengths hold.",
            |grade| Ok(Dynamic::from(grade.sizes())),
        )
        .property::<BoltGrade>("bolt_grade.name", "A grade's name, a text.", |grade| {
            Ok(Dynamic::from(grade.name().to_owned()))
        })
        .property::<BoltGrade>("bolt_grade.source", "Where its strengths come from, a text.", |grade| {
            Ok(Dynamic::from(grade.source().to_owned()))
        });
}

fn taken(value: &Dynamic) -> Result<Thread> {
    let hint = "thread_form(\"1/2-13 UNC\"), thread_form(\"M10x1.5\")";
    value::typed(value, "the thread", "a thread").map_err(|refusal| refusal.hint(hint))
}
