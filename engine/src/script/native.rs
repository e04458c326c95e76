//! Functions of the language that are written in Rust, with their descriptions.
//!
//! A signature is written once, as people read it, and says the name, the number of arguments and which may be left out:
//! `rect_tube(width, height, wall[, corner_radius])`, `line.distance(other)` for a method.

use super::value::settle;
use crate::diagnostic::Refusal;
use crate::tape::charge;
use rhai::{Array, Dynamic, Engine, EvalAltResult, ImmutableString, Map, NativeCallContext};
use std::any::TypeId;
use std::rc::Rc;

/// What a native function does: its arguments (a method's object first) to its result.
type Native = Rc<dyn Fn(&NativeCallContext<'_>, &mut [&mut Dynamic]) -> Result<Dynamic, Box<EvalAltResult>>>;

/// A function as the language knows it.
#[derive(Clone)]
pub struct Function {
    /// As it is written: `distance(a, b)`.
    pub signature: String,
    /// What it does: shapes, units, errors, source.
    pub about: String,
    /// The concept that it belongs to: "numbers", "geometry".
    pub concept: &'static str,
    native: Native,
    kind: Kind,
    /// The Rust name of the type that a property or a method belongs to.
    owner: Option<&'static str>,
}

#[derive(Clone, Copy)]
enum Kind {
    Call,
    /// A method of one type: other types may have one of the same name.
    Method(TypeId),
    /// A property of one type.
    Property(TypeId),
    /// An operator on two types.
    Operator([Option<TypeId>; 2]),
}

/// The functions that scripts may call.
#[derive(Clone, Default)]
pub struct Functions {
    all: Vec<Function>,
    concept: &'static str,
}

impl Functions {
    /// Opens a concept: what is added next belongs to it.
    pub fn concept(&mut self, name: &'static str) -> &mut Self {
        self.concept = name;
        self
    }

    /// Adds a function or, where the signature has a point (`chart.line(name, xs, ys)`), a method.
    pub fn add(
        &mut self,
        signature: &str,
        about: &str,
        native: impl Fn(&[Dynamic]) -> Result<Dynamic, Refusal> + 'static,
    ) -> &mut Self {
        self.push(signature, about, settled(native), Kind::Call)
    }

    /// Adds a method of one type, where other types have one of the same name and number of arguments:
    /// `structure.copy()`.
    pub fn method<T: Clone + 'static>(
        &mut self,
        signature: &str,
        about: &str,
        native: impl Fn(&[Dynamic]) -> Result<Dynamic, Refusal> + 'static,
    ) -> &mut Self {
        self.push(signature, about, settled(native), Kind::Method(TypeId::of::<T>()))
            .owned_by::<T>()
    }

    /// Adds a function that calls a closure of the script.
    pub(crate) fn add_with_context<T: Clone + 'static>(
        &mut self,
        signature: &str,
        about: &str,
        native: impl Fn(&NativeCallContext<'_>, &[Dynamic]) -> Result<T, Box<EvalAltResult>> + 'static,
    ) -> &mut Self {
        let native: Native = Rc::new(move |context, arguments| native(context, &copied(arguments)).map(Dynamic::from));
        self.push(signature, about, native, Kind::Call)
    }

    /// Adds a method that changes its object: `list.push(item)`. One that keeps its value refuses.
    pub(crate) fn changing(
        &mut self,
        signature: &str,
        about: &str,
        native: impl Fn(&mut Dynamic, &[Dynamic]) -> Result<(), Refusal> + 'static,
    ) -> &mut Self {
        let native: Native = Rc::new(move |_context, arguments| {
            let given = copied(arguments.get(1..).unwrap_or_default());
            let Some(object) = arguments.first_mut() else {
                return Ok(Dynamic::UNIT);
            };
            if object.is_read_only() {
                let refusal = Refusal::new("constant", "this keeps the value that it was given");
                return Err(super::value::thrown(refusal.hint("let longer = list + [item];")));
            }
            settle(native(object, &given).map(|()| Dynamic::UNIT))
        });
        self.push(signature, about, native, Kind::Call)
    }

    /// Adds a property of a type: `section.area`.
    pub fn property<T: Clone + 'static>(
        &mut self,
        signature: &str,
        about: &str,
        native: impl Fn(&T) -> Result<Dynamic, Refusal> + 'static,
    ) -> &mut Self {
        let owner = signature.to_owned();
        let native = move |arguments: &[Dynamic]| match arguments[0].read_lock::<T>() {
            Some(object) => native(&object),
            None => Err(super::value::wrong(&arguments[0], &owner, "something else")),
        };
        self.push(signature, about, settled(native), Kind::Property(TypeId::of::<T>()))
            .owned_by::<T>()
    }

    /// Adds an operator on operands of two types (`None`: any).
    pub(crate) fn operator(
        &mut self,
        sign: &str,
        types: [Option<TypeId>; 2],
        native: impl Fn(&[Dynamic]) -> Result<Dynamic, Refusal> + 'static,
    ) -> &mut Self {
        self.push(sign, "", settled(native), Kind::Operator(types))
    }

    /// Adds an operator that knows where it stands.
    pub(crate) fn operator_with_place(
        &mut self,
        sign: &str,
        types: [Option<TypeId>; 2],
        native: impl Fn(&NativeCallContext<'_>, &[Dynamic]) -> Result<Dynamic, Refusal> + 'static,
    ) -> &mut Self {
        let native: Native = Rc::new(move |context, arguments| settle(native(context, &copied(arguments))));
        self.push(sign, "", native, Kind::Operator(types))
    }

    fn push(&mut self, signature: &str, about: &str, native: Native, kind: Kind) -> &mut Self {
        self.all.push(Function {
            signature: signature.to_owned(),
            about: about.to_owned(),
            concept: self.concept,
            native,
            kind,
            owner: None,
        });
        self
    }

    /// The function added last belongs to a type.
    fn owned_by<T>(&mut self) -> &mut Self {
        if let Some(last) = self.all.last_mut() {
            last.owner = Some(std::any::type_name::<T>());
        }
        self
    }

    /// All functions and properties with their descriptions, operators left out.
    pub fn described(&self) -> impl Iterator<Item = &Function> {
        self.all
            .iter()
            .filter(|function| !matches!(function.kind, Kind::Operator(_)))
    }

    /// Names of all functions and methods.
    pub(crate) fn names(&self) -> impl Iterator<Item = &str> {
        self.described().map(Function::name)
    }

    pub(crate) fn register(&self, engine: &mut Engine) {
        for function in &self.all {
            function.register(engine);
        }
    }
}

impl Function {
    /// Its name: `distance`.
    #[must_use]
    pub fn name(&self) -> &str {
        let before = self.signature.split('(').next().unwrap_or(&self.signature);
        before.rsplit('.').next().unwrap_or(before)
    }

    /// Whether it belongs to the values of a type, by the type's name in Rust.
    pub(crate) fn belongs_to(&self, owner: &str) -> bool {
        self.owner == Some(owner)
    }

    /// Whether it is a property.
    #[must_use]
    pub fn is_property(&self) -> bool {
        matches!(self.kind, Kind::Property(_))
    }

    /// How few and how many arguments it takes.
    #[must_use]
    pub fn arity(&self) -> (usize, usize) {
        let (before, inside) = self.signature.split_once('(').unwrap_or((&self.signature, ")"));
        let inside = inside.trim_end_matches(')');
        let count = |text: &str| text.split(',').filter(|part| !part.trim().is_empty()).count();
        let object = usize::from(before.contains('.'));
        let needed = inside.split('[').next().unwrap_or("");
        let all = inside.replace(['[', ']'], "");
        (object + count(needed), object + count(&all))
    }

    fn register(&self, engine: &mut Engine) {
        let any = TypeId::of::<Dynamic>();
        match self.kind {
            Kind::Call | Kind::Method(_) => {
                let (few, many) = self.arity();
                for count in few..=many {
                    let mut types = vec![any; count];
                    if let (Kind::Method(owner), Some(first)) = (self.kind, types.first_mut()) {
                        *first = owner;
                    }
                    self.bind(engine, self.name().to_owned(), &types);
                }
            }
            Kind::Property(owner) => self.bind(engine, format!("get${}", self.name()), &[owner]),
            Kind::Operator(types) => {
                let types = types.map(|kind| kind.unwrap_or(any));
                self.bind(engine, self.signature.clone(), &types);
            }
        }
    }

    fn bind(&self, engine: &mut Engine, name: String, types: &[TypeId]) {
        let native = Rc::clone(&self.native);
        engine.register_raw_fn(name, types, move |context, arguments| native(&context, arguments));
    }
}

/// A function whose faults are asked for before its result goes to the script.
fn settled(native: impl Fn(&[Dynamic]) -> Result<Dynamic, Refusal> + 'static) -> Native {
    Rc::new(move |_context, arguments| {
        let result = native(&copied(arguments));
        if let Ok(result) = &result {
            // A list was made item by item.
            charge(10 * size(result) as u64);
        }
        settle(result)
    })
}

/// Copying counts as work, and reading a text: an item is about ten operations, a letter about five.
fn copied(arguments: &[&mut Dynamic]) -> Vec<Dynamic> {
    let size: usize = arguments.iter().map(|argument| size(argument)).sum();
    charge(10 * (1 + size as u64));
    arguments.iter().map(|argument| (**argument).clone()).collect()
}

/// Items of a list or a map, without what is in them; half of a text's bytes.
fn size(value: &Dynamic) -> usize {
    let list = value.read_lock::<Array>().map(|list| list.len());
    list.or_else(|| value.read_lock::<Map>().map(|map| map.len()))
        .or_else(|| value.read_lock::<ImmutableString>().map(|text| text.len() / 2))
        .unwrap_or(0)
}

impl std::fmt::Debug for Functions {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        to.debug_list()
            .entries(self.all.iter().map(|function| &function.signature))
            .finish()
    }
}
