//! Rows and columns.

use super::take::{Handle, change, copy, words};
use crate::diagnostic::Refusal;
use crate::figure::Table;
use crate::outcome::Value;
use crate::script::native::Functions;
use crate::script::{shown, value, wording};
use rhai::Dynamic;

type Held = Handle<Table>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "table(columns, rows)",
        "A table: the heads of its columns, a list of texts, and its rows, each a list of quantities, counts and texts as \
         long as the heads. write(q, \"mm 1\") says how a number is written. A second name is the same table.",
        |a| {
            let columns = value::list(&a[0], "the columns of a table")?;
            let columns = columns.iter().map(|column| words(column, "the head of a column"));
            let mut table = Table::new(columns.collect::<Result<_, _>>()?)?;
            for row in value::list(&a[1], "the rows of a table")? {
                table.row(cells(&row)?)?;
            }
            Ok(Handle::value(table))
        },
    );
    functions.method::<Held>("table.row(cells)", "One more row below the others.", |a| {
        let cells = cells(&a[1])?;
        change(a, |table: &mut Table| table.row(cells))
    });
    functions.method::<Held>("table.title(text)", "What the table is of.", |a| {
        let title = words(&a[1], "the title of a table")?;
        change(a, |table: &mut Table| {
            table.title = title;
            Ok(())
        })
    });
    functions.method::<Held>(
        "table.copy()",
        "Another table, as this one is now: what is added to one is not in the other.",
        copy::<Table>,
    );
}

fn cells(row: &Dynamic) -> Result<Vec<Value>, Refusal> {
    let row = value::list(row, "a row of a table")?;
    let cell = |cell: &Dynamic| {
        wording::sound(cell)?;
        shown::outcome_value(cell)
    };
    row.iter().map(cell).collect()
}
