//! Attacks that are too large, or too little of a text, to stand in a file: each is made here.

use super::attack::Attack;
use crate::program::words;
use std::fmt::Write;

const SHAFT: &str = include_str!("../cli/scripts/shaft.rhai");
const RUN: &str = "[[run]]\nscript = \"shaft.rhai\"\nname = \"shaft\"\n";
const TUBE: &str = "//! Twice.\ninput a = 3.mm plus_minus 0.1.mm from 1.mm to 5.mm : \"A\";\n\
                    step b = 2 * a : \"Twice\";\ncheck b < 10.mm : \"small\";\n";

fn attack(name: &str, files: Vec<(&str, Vec<u8>)>, arguments: &[&str]) -> Attack {
    Attack {
        name: name.to_owned(),
        files: files
            .into_iter()
            .map(|(name, bytes)| (name.to_owned(), bytes))
            .collect(),
        arguments: arguments.iter().map(|word| (*word).to_owned()).collect(),
        answers: Vec::new(),
        shown: String::new(),
    }
}

/// Scripts.
pub(super) fn scripts() -> Vec<Attack> {
    let script = |name: &str, bytes: Vec<u8>| attack(name, vec![("script.rhai", bytes)], &["run", "script.rhai"]);
    let lines = |count: usize, line: &dyn Fn(usize) -> String| (0..count).map(line).collect::<String>().into_bytes();
    let nested = |open: &str, middle: &str, close: &str, depth: usize| {
        format!("{}{middle}{}", open.repeat(depth), close.repeat(depth)).into_bytes()
    };
    vec![
        script("no text in UTF-8", b"step a = 1; // \xff\xfe\n".to_vec()),
        script("a picture", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec()),
        script("a program", b"\x7fELF\x02\x01\x01\0\0\0\0\0".to_vec()),
        script(
            "a text in UTF-16",
            "step a = 1;".encode_utf16().flat_map(u16::to_le_bytes).collect(),
        ),
        script("a thousand noughts", vec![0; 1000]),
        script("a file of five million bytes", vec![b' '; 5_000_000]),
        script(
            "a script of two million bytes",
            lines(100_000, &|_| "// a line of a comment\n".to_owned()),
        ),
        script(
            "a line of a hundred thousand letters",
            format!("step a = 1; // {}", "a".repeat(100_000)).into_bytes(),
        ),
        script("seventy thousand lines", vec![b'\n'; 70_000]),
        script(
            "thirty thousand inputs",
            lines(30_000, &|k| format!("input a{k} = 1.mm;\n")),
        ),
        script(
            "twelve thousand names",
            lines(12_000, &|k| format!("let a{k} = {k};\n")),
        ),
        script(
            "twelve hundred functions",
            lines(1200, &|k| format!("fn f{k}(x) {{ x }}\n")),
        ),
        script(
            "a hundred modules",
            lines(100, &|k| format!("import \"driveline/cardan\" as c{k};\n")),
        ),
        script("a function of three hundred arguments", {
            let names: Vec<String> = (0..300).map(|k| format!("a{k}")).collect();
            format!("fn f({}) {{ 1 }}\nstep a = 1;", names.join(", ")).into_bytes()
        }),
        script("twenty thousand brackets", nested("(", "1", ")", 20_000)),
        script("twenty thousand lists", nested("[", "1", "]", 20_000)),
        script("twenty thousand maps", nested("#{ a: ", "1", "}", 20_000)),
        script("twenty thousand blocks", nested("if true { ", "1", "}", 20_000)),
        script("twenty thousand closures", nested("|x| ", "1", "", 20_000)),
        script("twenty thousand signs", nested("-", "1", "", 20_000)),
        script("twenty thousand negations", nested("!", "true", "", 20_000)),
        script("twenty thousand texts in texts", nested("`${", "1", "}`", 20_000)),
        script("twenty thousand comments", nested("/*", "", "*/", 20_000)),
        script(
            "a chain of twenty thousand points",
            format!("let a = 1; a{}", ".b".repeat(20_000)).into_bytes(),
        ),
        script(
            "a chain of twenty thousand calls",
            format!("fn f() {{ 1 }} f{}", "()".repeat(20_000)).into_bytes(),
        ),
        script(
            "a chain of twenty thousand indices",
            format!("let a = [1]; a{}", "[0]".repeat(20_000)).into_bytes(),
        ),
        script(
            "a chain of twenty thousand ways on",
            format!("if false {{ }}{}", " else if false { }".repeat(20_000)).into_bytes(),
        ),
        script(
            "a sum of twenty thousand",
            format!("step a = 1{};", " + 1".repeat(20_000)).into_bytes(),
        ),
        script(
            "a power of twenty thousand",
            format!("step a = 1{};", " ** 1".repeat(20_000)).into_bytes(),
        ),
        script(
            "a unit as long as a book",
            format!("step a = quantity(1, \"{}mm\");", "mm ".repeat(30_000)).into_bytes(),
        ),
        script(
            "a unit after `as` as long as a book",
            format!("step a = 1.mm as \"{}\";", "(".repeat(30_000)).into_bytes(),
        ),
        script(
            "a name as long as a book",
            format!("let {} = 1;", "a".repeat(60_000)).into_bytes(),
        ),
        script(
            "a number as long as a book",
            format!("step a = {};", "9".repeat(60_000)).into_bytes(),
        ),
        script(
            "a fraction as long as a book",
            format!("step a = 0.{};", "0".repeat(60_000)).into_bytes(),
        ),
    ]
}

/// Import cycles, and what a pack may see.
pub(super) fn packs() -> Vec<Attack> {
    let manifest = |name: &str, uses: &str| {
        format!("format = 1\nname = \"{name}\"\nversion = \"1\"\nuses = [{uses}]\n").into_bytes()
    };
    let pack = |name: &str, one: &str, other: &str| {
        let files = vec![
            ("packs/one/pack.toml", manifest("one", "\"other\"")),
            ("packs/one/a.rhai", one.as_bytes().to_vec()),
            ("packs/other/pack.toml", manifest("other", "")),
            ("packs/other/b.rhai", other.as_bytes().to_vec()),
        ];
        attack(name, files, &["run", "one/a"])
    };
    let many: Vec<(String, Vec<u8>)> = (0..2100)
        .map(|k| (format!("packs/one/s{k}.rhai"), Vec::new()))
        .collect();
    let mut crowded = pack("a pack of two thousand scripts", "step a = 1;", "");
    crowded.files.extend(many);
    vec![
        pack(
            "a script that imports itself",
            "import \"one/a\" as a;\nstep b = 1;",
            "",
        ),
        pack(
            "a module that imports what imports it",
            "import \"other/b\" as b;\nstep c = b::f();",
            "import \"one/a\" as a;\nfn f() { 1 }",
        ),
        pack(
            "a module that imports itself",
            "import \"other/b\" as b;\nstep c = b::f();",
            "import \"other/b\" as b;\nfn f() { 1 }",
        ),
        pack(
            "a module of a pack that its own does not name",
            "import \"driveline/cardan\" as c;\nstep a = 1;",
            "",
        ),
        pack(
            "a module that takes from a pack which its own does not name",
            "import \"other/b\" as b;\nstep c = b::f();",
            "import \"one/c\" as c;\nfn f() { c::f() }",
        )
        .with("packs/one/c.rhai", "fn f() { 1 }"),
        pack(
            "a module that is no script",
            "import \"other/b\" as b;\nstep c = b::f();",
            "fn f( {",
        ),
        pack(
            "a module that never ends",
            "import \"other/b\" as b;\nstep c = b::f();",
            "fn f() { f() }",
        ),
        pack(
            "a module with an order to the screen",
            "import \"other/b\" as b;\nstep c = b::f();",
            "fn f() { \"\\x1b[2J\" }",
        ),
        pack(
            "a module that is not there",
            "import \"other/nothing\" as b;\nstep c = b::f();",
            "",
        ),
        pack(
            "a file beside the pack",
            "import \"other/../../secret\" as b;\nstep c = b::f();",
            "",
        ),
        crowded,
    ]
}

/// Job files, and tables beside them.
pub(super) fn jobs() -> Vec<Attack> {
    let job = |name: &str, text: String| {
        attack(
            name,
            vec![("car.toml", text.into_bytes()), ("shaft.rhai", SHAFT.into())],
            &["run", "car.toml"],
        )
    };
    let table = |name: &str, csv: Vec<u8>| {
        let script = "input loads = [#{ name: \"Wipers\", current: 4.A }];\nstep a = loads[0].current;\n";
        let job =
            "format = 1\n[measured]\nloads = { csv = \"loads.csv\" }\n[[run]]\nscript = \"t.rhai\"\nname = \"t\"\n";
        attack(
            name,
            vec![("car.toml", job.into()), ("t.rhai", script.into()), ("loads.csv", csv)],
            &["run", "car.toml"],
        )
    };
    let many = |count: usize, line: &dyn Fn(usize) -> String| (0..count).map(line).collect::<String>();
    let deep = format!("format = 1\na = {}{}\n{RUN}", "[".repeat(20_000), "]".repeat(20_000));
    vec![
        job("a list twenty thousand deep", deep),
        job(
            "a key twenty thousand deep",
            format!("format = 1\n[{}]\n{RUN}", vec!["a"; 20_000].join(".")),
        ),
        job(
            "twenty thousand tables inside one another",
            format!(
                "format = 1\na = {}{}\n{RUN}",
                "{ a = ".repeat(20_000),
                "}".repeat(20_000)
            ),
        ),
        job(
            "ten thousand runs",
            format!(
                "format = 1\n{}",
                many(10_000, &|k| format!(
                    "[[run]]\nscript = \"shaft.rhai\"\nname = \"{k}\"\n"
                ))
            ),
        ),
        job(
            "a hundred thousand readings",
            format!(
                "format = 1\n[measured]\n{}{RUN}",
                many(100_000, &|k| format!("a{k} = \"1 mm\"\n"))
            ),
        ),
        job(
            "twenty thousand options",
            format!(
                "format = 1\n{}{RUN}",
                many(20_000, &|k| format!(
                    "[[option]]\nname = \"{k}\"\nset = {{ wall = \"2 mm\" }}\n"
                ))
            ),
        ),
        job(
            "twenty thousand days",
            format!(
                "format = 1\n{}{RUN}",
                many(20_000, &|_| {
                    "[[session]]\non = 2026-03-14\n[session.readings]\nwall = \"2 mm\"\n".to_owned()
                })
            ),
        ),
        job(
            "a hundred thousand repeats",
            format!(
                "format = 1\n[measured]\nwall = {{ readings = [{}] }}\n{RUN}",
                "\"1 mm\", ".repeat(100_000)
            ),
        ),
        job(
            "a reading as long as a book",
            format!("format = 1\n[measured]\nwall = \"{} mm\"\n{RUN}", "1".repeat(1_000_000)),
        ),
        job(
            "a unit as long as a book",
            format!("format = 1\n[measured]\nwall = \"1 {}\"\n{RUN}", "mm ".repeat(300_000)),
        ),
        job(
            "a title as long as a book",
            format!(
                "format = 1\ntitle = \"{}\"\n[measured]\nwall = 1\n{RUN}",
                "a".repeat(1_000_000)
            ),
        ),
        job(
            "a file of five million bytes",
            format!("format = 1\n{}", "# a\n".repeat(1_300_000)),
        ),
        table(
            "a table with a quote that never closes",
            b"name,current\n\"Wipers,4 A\n".to_vec(),
        ),
        table("a table of nothing", Vec::new()),
        table("a table of one line", b"name,current\n".to_vec()),
        table("a table with a row too short", b"name,current\nWipers\n".to_vec()),
        table("a table with a column twice", b"name,name\nWipers,4 A\n".to_vec()),
        table(
            "a table with an order to the screen",
            b"name,current\n\x1b[2JWipers,4 A\n".to_vec(),
        ),
        table("a table that is no text", b"name,current\nW\xffpers,4 A\n".to_vec()),
        table(
            "a table with a formula for a spreadsheet",
            b"name,current\nWipers,=1+1\n".to_vec(),
        ),
        table(
            "a table of a hundred thousand rows",
            format!("name,current\n{}", many(100_000, &|k| format!("w{k},4 A\n"))).into_bytes(),
        ),
        table(
            "a table of a hundred thousand columns",
            format!("{}\n", vec!["a"; 100_000].join(",")).into_bytes(),
        ),
    ]
}

/// Records.
pub(super) fn records() -> Vec<Attack> {
    let record = |name: &str, text: String| {
        attack(
            name,
            vec![("before.json", text.into_bytes())],
            &["compare", "before.json", "before.json"],
        )
    };
    let of = |key: &str, items: String| {
        let lists = ["inputs", "steps", "checks"].map(|name| match name == key {
            true => format!("\"{name}\": [{items}]"),
            false => format!("\"{name}\": []"),
        });
        let script = "{\"name\": \"a\", \"pack_version\": null, \"sha256\": \"00\"}";
        format!("{{\"format\": 1, \"script\": {script}, {}}}", lists.join(", "))
    };
    let numbers = |count: usize| {
        let mut text = String::new();
        for k in 0..count {
            write!(text, "{}{k}", if k > 0 { ", " } else { "" }).unwrap();
        }
        text
    };
    vec![
        record(
            "lists a hundred thousand deep",
            format!("{}{}", "[".repeat(100_000), "]".repeat(100_000)),
        ),
        record("objects a hundred thousand deep", "{\"a\":".repeat(100_000)),
        record(
            "a record of five million bytes",
            format!("{{\"a\": \"{}\"}}", "a".repeat(5_000_000)),
        ),
        record(
            "a hundred thousand steps that are numbers",
            of("steps", numbers(100_000)),
        ),
        record(
            "a hundred thousand checks that are numbers",
            of("checks", numbers(100_000)),
        ),
        record(
            "a number as long as a book",
            format!("{{\"format\": {}}}", "9".repeat(1_000_000)),
        ),
    ]
}

/// Questions that are too large, on a script that is in order.
pub(super) fn questions() -> Vec<Attack> {
    let ask = |name: &str, line: &str| {
        let words = words(line);
        let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
        attack(name, vec![("t.rhai", TUBE.into())], &arguments)
    };
    let long = "9".repeat(50_000);
    let unit = format!("a=1 {}", "mm ".repeat(30_000));
    vec![
        ask(
            "a sweep of a million million points",
            "sweep t.rhai --vary \"a=1 mm..5 mm\" --points 1000000000000 --watch b",
        ),
        ask(
            "a sweep of no point",
            "sweep t.rhai --vary \"a=1 mm..5 mm\" --points 0 --watch b",
        ),
        ask(
            "a sweep of less than no point",
            "sweep t.rhai --vary \"a=1 mm..5 mm\" --points=-1 --watch b",
        ),
        ask(
            "a sweep from nowhere",
            "sweep t.rhai --vary \"a=NaN mm..5 mm\" --watch b",
        ),
        ask(
            "a sweep to no end",
            "sweep t.rhai --vary \"a=1 mm..1e999 mm\" --watch b",
        ),
        ask(
            "a sweep of what is not there",
            "sweep t.rhai --vary \"c=1 mm..2 mm\" --watch b",
        ),
        ask(
            "a map of a million million places",
            "sweep t.rhai --vary \"a=1 mm..5 mm\" --vary \"b=1 mm..5 mm\" --points 1000000 --watch b",
        ),
        ask("a million million samples", "spread t.rhai --samples 1000000000000"),
        ask("no sample", "spread t.rhai --samples 0"),
        ask(
            "a million million sheets",
            "lesson t.rhai --sheets 1000000000000 --out s.html",
        ),
        ask("no sheet", "lesson t.rhai --sheets 0 --out s.html"),
        ask("a seed less than nothing", "lesson t.rhai --sheets 2 --seed=-1"),
        ask(
            "a seed beyond all",
            "lesson t.rhai --sheets 2 --seed 18446744073709551616",
        ),
        ask("a seed in words", "lesson t.rhai --sheets 2 --seed seven"),
        ask(
            "a solution in steps of nothing",
            "solve t.rhai --adjust \"a=1 mm..5 mm\" --for \"b=4 mm\" --step \"0 mm\"",
        ),
        ask(
            "a solution in steps less than nothing",
            "solve t.rhai --adjust \"a=1 mm..5 mm\" --for \"b=4 mm\" \"--step=-1 mm\"",
        ),
        ask(
            "a solution that is nowhere",
            "solve t.rhai --adjust \"a=1 mm..5 mm\" --for \"b=1e300 mm\"",
        ),
        ask(
            "a value as long as a book",
            &format!("run t.rhai --set \"a={long} mm\""),
        ),
        ask("a unit as long as a book", &format!("run t.rhai --set \"{unit}\"")),
        ask(
            "a value with an order to the screen",
            "run t.rhai --set \"a=3 \u{1b}[2Jmm\"",
        ),
        ask("a value turned round", "run t.rhai --set \"a=3 \u{202e}mm\""),
        ask(
            "a name with an order to the screen",
            "run t.rhai --set \"\u{1b}[2Ja=3 mm\"",
        ),
        ask("a script with an order to the screen in its name", "run \u{1b}[2J.rhai"),
        ask("a command with an order to the screen", "\u{1b}[2J"),
        ask("a file to write that leads to a device", "run t.rhai --out /dev/full/x"),
        ask("a file to write over", "run t.rhai --out t.rhai"),
        ask("a folder that is a file", "run t.rhai --out t.rhai/"),
        ask("a pattern of brackets", "list (((((((("),
    ]
}

/// A seed's largest number is as good as another; text that looks like markup is text.
pub(super) fn harmless() -> Vec<Attack> {
    let markup = "//! <script>alert(1)</script>\ninput a = 3.mm : \"</title><img src=x onerror=alert(1)>\";\n\
                  step b = a : \"&lt;b&gt;\";\nnote \"[a](javascript:alert(1)) $(rm -rf /) `id` %n%s\";\ncheck a < 4.mm : \"' OR 1=1\";\n";
    vec![
        attack(
            "a text with marks of other languages",
            vec![("t.rhai", markup.into())],
            &["run", "t.rhai"],
        ),
        attack(
            "a file with its mark at the start",
            vec![("t.rhai", format!("\u{feff}{TUBE}").into_bytes())],
            &["run", "t.rhai"],
        ),
        attack(
            "lines that end as on another system",
            vec![("t.rhai", TUBE.replace('\n', "\r\n").into_bytes())],
            &["run", "t.rhai"],
        ),
        attack(
            "a note over lines that end as on another system",
            vec![("t.rhai", b"note `one\r\ntwo`;\r\n".to_vec())],
            &["run", "t.rhai"],
        ),
        attack(
            "letters of other alphabets",
            vec![("t.rhai", "note \"Длина, 長さ, طول, אורך, 🚗\";\n".into())],
            &["run", "t.rhai"],
        ),
        attack("an empty script", vec![("t.rhai", Vec::new())], &["run", "t.rhai"]),
    ]
}
