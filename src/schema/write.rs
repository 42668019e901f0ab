//! A schema from the tables of keys.
use super::{Choices, FileKind};
use crate::company::keys::{self, Key, Known, Takes, Thing};
use crate::company::{ClauseKind, FAILS_AT};
use crate::measure::Kind;
use serde_json::{Map, Value, json};

/// Any measure with a unit: a figure, and a letter or sign after it.
const MEASURE: &str = "[0-9].*[a-zA-Z%'\"°]";

/// The schema of a kind of file. `choices` are the ids of the company, which stand there as choices; `kinds`
/// the clauses that the program measures.
pub fn schema(file: FileKind, choices: &Choices, kinds: &[ClauseKind]) -> Value {
    let mut writer = Writer { choices, kinds, things: Vec::new(), definitions: Map::new() };
    let thing = writer.refer(file.root());
    let root = match file {
        FileKind::Words => json!({ "type": "array", "items": thing }),
        _ => thing,
    };
    let mut schema = json!({
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": format!("longsweep: {}", file.word()),
        "description": format!("{} of a company folder", file.files()),
        "allOf": [root],
    });
    schema["definitions"] = Value::Object(writer.definitions);
    schema
}

struct Writer<'a> {
    choices: &'a Choices,
    kinds: &'a [ClauseKind],
    /// Things that have been met, with their names among the definitions.
    things: Vec<(&'static Thing, String)>,
    definitions: Map<String, Value>,
}

impl Writer<'_> {
    /// A reference to a thing's definition, which is written where it is met first.
    fn refer(&mut self, thing: &'static Thing) -> Value {
        let known = self.things.iter().find(|(known, _)| std::ptr::eq(*known, thing));
        let name = match known {
            Some((_, name)) => name.clone(),
            None => {
                let name = self.free_name(thing);
                self.things.push((thing, name.clone()));
                let written = self.object(thing.what, thing.keys.iter().map(|key| (key, None)));
                self.definitions.insert(name.clone(), written);
                name
            }
        };
        json!({ "$ref": format!("#/definitions/{name}") })
    }

    /// `inlet` for an inlet; two things of one word are told apart by a number.
    fn free_name(&self, thing: &Thing) -> String {
        let word = thing.what.split_once(' ').map_or(thing.what, |(_, word)| word).replace([' ', '\''], "-");
        let taken = |name: &String| self.things.iter().any(|(_, known)| known == name);
        let numbered = (2..).map(|n| format!("{word}-{n}"));
        std::iter::once(word.clone()).chain(numbered).find(|name| !taken(name)).unwrap_or(word)
    }

    /// A mapping of these keys, of which some have a value of their own, and of no others.
    fn object(&mut self, what: &str, keys: impl Iterator<Item = (&'static Key, Option<Value>)>) -> Value {
        let (mut properties, mut required) = (Map::new(), Vec::new());
        for (key, own) in keys {
            let value = match own {
                Some(value) => value,
                None => self.taken(&key.takes),
            };
            if key.must {
                required.push(key.name);
            }
            properties.insert(key.name.into(), told(key, value));
        }
        json!({
            "title": what, "type": "object", "additionalProperties": false,
            "required": required, "properties": properties,
        })
    }

    fn taken(&mut self, takes: &'static Takes) -> Value {
        match takes {
            // Words such as `yes` are words to the reader, whatever an editor takes them for.
            Takes::Text => json!({ "type": ["string", "number", "boolean"], "maxLength": 10000 }),
            Takes::Name => json!({ "type": ["string", "number"], "maxLength": 120 }),
            Takes::Id => {
                json!({ "type": ["string", "number", "boolean"], "pattern": "^[A-Za-z0-9_-]{1,60}$" })
            }
            Takes::Date => json!({ "type": "string", "pattern": "^(19|20|21)[0-9]{2}-[0-9]{2}-[0-9]{2}$" }),
            Takes::Whole => json!({ "type": ["integer", "string"], "pattern": "^[0-9]+$" }),
            Takes::Truth => json!({ "enum": [true, false, "yes", "no"] }),
            Takes::Form(pattern) => json!({ "type": ["string", "number"], "pattern": pattern }),
            Takes::Measure(kind) => measure(*kind),
            Takes::OneOf(words) => json!({ "enum": words() }),
            Takes::Known(known) => self.known(*known),
            Takes::Thing(thing) => self.refer(thing),
            Takes::Things(things) => any(things().into_iter().map(|thing| self.refer(thing)).collect()),
            Takes::List(takes) => json!({ "type": "array", "items": self.taken(takes) }),
            Takes::Either(several) => any(several.iter().map(|takes| self.taken(takes)).collect()),
            Takes::Blank(takes) => any(vec![self.taken(takes), json!({ "type": "null" })]),
            Takes::Clause => self.clause(),
        }
    }

    fn known(&self, known: Known) -> Value {
        let ids = self.choices.ids(known);
        match ids.is_empty() {
            true => json!({ "type": ["string", "number"] }),
            false => json!({ "enum": ids }),
        }
    }

    /// A computed clause with its own figure, or one by eye.
    fn clause(&mut self) -> Value {
        let kinds = self.kinds;
        let mut several: Vec<Value> = kinds.iter().map(|kind| self.computed(kind)).collect();
        several.push(self.refer(&keys::BY_EYE));
        any(several)
    }

    fn computed(&mut self, kind: &ClauseKind) -> Value {
        let own = |key: &'static Key| (key, (key.name == "clause").then(|| json!({ "const": kind.id })));
        let mut object = self.object(kind.title, keys::COMPUTED.keys.iter().map(own));
        if let Some((key, sort)) = kind.parameter {
            object["properties"][key] = measure(sort);
            object["properties"][FAILS_AT] = measure(sort);
            if let (None, Some(required)) = (kind.default, object["required"].as_array_mut()) {
                required.push(key.into());
            }
        }
        object
    }
}

fn measure(kind: Kind) -> Value {
    match kind {
        Kind::Angle | Kind::Plain => json!({ "type": ["number", "string"], "examples": [kind.example()] }),
        _ => json!({ "type": "string", "pattern": MEASURE, "examples": [kind.example()] }),
    }
}

fn any(several: Vec<Value>) -> Value {
    json!({ "anyOf": several })
}

/// A value with what is said of its key. Beside a reference draft-07 reads nothing, so that goes inside.
fn told(key: &Key, value: Value) -> Value {
    let mut value = if value.get("$ref").is_some() { json!({ "allOf": [value] }) } else { value };
    let without = match key.without {
        "" => String::new(),
        without => format!(". Left out: {without}"),
    };
    value["description"] = format!("{}{without}", key.about).into();
    value["examples"] = json!([key.example]);
    value
}
