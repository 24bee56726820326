//! A YAML text as a tree of numbered values, and the place of each in the text.
//!
//! The YAML library tells line and column of an error only. So the text is read once into the
//! tree, in which every key and value has a number, and to find where number *n* stands it is
//! read again with an error raised at that very value.

use std::cell::Cell;
use std::fmt;

use serde::de::{self, DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};

use crate::reader::diagnostic::Position;

/// More values than any garden has; aliases of aliases could otherwise fill the memory.
const MAX_VALUES: usize = 200_000;

/// A value and its number in the order of the text.
#[derive(Debug)]
pub(crate) struct Node {
    pub(crate) id: usize,
    pub(crate) value: NodeValue,
}

/// What a value is.
#[derive(Debug)]
pub(crate) enum NodeValue {
    /// Nothing behind the colon, or `null`.
    Null,
    Bool(bool),
    Integer(i128),
    /// A finite number; what YAML calls `.nan` and `.inf` is a text like any other here.
    Float(f64),
    Text(String),
    Sequence(Vec<Node>),
    /// Keys and values in the order of the text; keys may repeat.
    Mapping(Vec<(Key, Node)>),
    /// A value with a tag such as `!metres` before it.
    Tagged(String),
}

impl NodeValue {
    /// What the value is, in a sentence.
    pub(crate) fn description(&self) -> &'static str {
        match self {
            Self::Null => "nothing",
            Self::Bool(_) => "true or false",
            Self::Integer(_) | Self::Float(_) => "a number",
            Self::Text(_) => "a text",
            Self::Sequence(_) => "a list",
            Self::Mapping(_) => "a group of keys",
            Self::Tagged(_) => "a tagged value",
        }
    }
}

/// A key and its number in the order of the text.
#[derive(Debug)]
pub(crate) struct Key {
    pub(crate) id: usize,
    pub(crate) text: String,
}

/// Why a text is no tree.
#[derive(Debug)]
pub(crate) enum TreeFault {
    /// The YAML library refuses it.
    Library(serde_yaml::Error),
    /// It unfolds to more values than any garden has.
    TooManyValues,
}

/// Reads a YAML text.
pub(crate) fn parse(text: &str) -> Result<Node, TreeFault> {
    let walk = Traversal::stopping_at(usize::MAX);
    NodeSeed(&walk)
        .deserialize(serde_yaml::Deserializer::from_str(text))
        .map_err(|error| match walk.next.get() {
            n if n > MAX_VALUES => TreeFault::TooManyValues,
            _ => TreeFault::Library(error),
        })
}

/// Where the value of this number stands in the text.
pub(crate) fn locate(text: &str, id: usize) -> Option<Position> {
    let walk = Traversal::stopping_at(id);
    let error = NodeSeed(&walk)
        .deserialize(serde_yaml::Deserializer::from_str(text))
        .err()?;
    position_of(&error, text)
}

/// Where the text's second document begins.
pub(crate) fn locate_second_document(text: &str) -> Option<Position> {
    let second = serde_yaml::Deserializer::from_str(text).nth(1)?;
    let walk = Traversal::stopping_at(0);
    let error = NodeSeed(&walk).deserialize(second).err()?;
    position_of(&error, text)
}

/// The place that an error of the YAML library tells, brought inside the text.
pub(crate) fn position_of(error: &serde_yaml::Error, text: &str) -> Option<Position> {
    let location = error.location()?;
    position_at(location.line(), location.column(), text)
}

/// A place by its line and column, brought inside the text.
pub(crate) fn position_at(line: usize, column: usize, text: &str) -> Option<Position> {
    // The library puts what is missing at the end behind the last line.
    let last_line = text.lines().count().max(1);
    let is_behind = line > last_line;
    let line = line.clamp(1, last_line);
    let content = text.lines().nth(line - 1).unwrap_or_default();
    let length = content.chars().count();
    let column = if is_behind {
        length.max(1)
    } else {
        column.clamp(1, length + 1)
    };
    let rest = content.chars().skip(column - 1).collect::<String>();
    Some(Position {
        line,
        column,
        width: width_of_value(&rest),
    })
}

/// How many characters of a line the value at its beginning takes.
fn width_of_value(rest: &str) -> usize {
    let mut characters = rest.chars();
    let first = characters.next().unwrap_or(' ');
    let width = match first {
        '"' | '\'' => characters
            .position(|c| c == first)
            .map_or(rest.chars().count(), |n| n + 2),
        '{' | '[' => 1,
        _ => {
            let end = [",", "]", "}", " #", ": ", ":\t"]
                .iter()
                .filter_map(|stop| rest.find(stop))
                .min()
                .unwrap_or(rest.len());
            let value = rest[..end].trim_end();
            value.strip_suffix(':').unwrap_or(value).chars().count()
        }
    };
    width.max(1)
}

/// A walk over all values of a text: counts them, and may stop at one.
struct Traversal {
    next: Cell<usize>,
    stop: usize,
}

impl Traversal {
    fn stopping_at(stop: usize) -> Self {
        Self {
            next: Cell::new(0),
            stop,
        }
    }

    /// The number of the value now read.
    fn next_id<E: de::Error>(&self) -> Result<usize, E> {
        let id = self.next.get();
        self.next.set(id + 1);
        if id == self.stop || id >= MAX_VALUES {
            return Err(E::custom("stopped here"));
        }
        Ok(id)
    }
}

struct NodeSeed<'a>(&'a Traversal);

impl<'de> DeserializeSeed<'de> for NodeSeed<'_> {
    type Value = Node;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Node, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl NodeSeed<'_> {
    fn node<E: de::Error>(&self, value: NodeValue) -> Result<Node, E> {
        let id = self.0.next_id()?;
        Ok(Node { id, value })
    }
}

impl<'de> Visitor<'de> for NodeSeed<'_> {
    type Value = Node;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("any value")
    }

    fn visit_unit<E: de::Error>(self) -> Result<Node, E> {
        self.node(NodeValue::Null)
    }

    fn visit_none<E: de::Error>(self) -> Result<Node, E> {
        self.node(NodeValue::Null)
    }

    fn visit_bool<E: de::Error>(self, truth: bool) -> Result<Node, E> {
        self.node(NodeValue::Bool(truth))
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Node, E> {
        self.node(NodeValue::Integer(number.into()))
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Node, E> {
        self.node(NodeValue::Integer(number.into()))
    }

    fn visit_i128<E: de::Error>(self, number: i128) -> Result<Node, E> {
        self.node(NodeValue::Integer(number))
    }

    fn visit_u128<E: de::Error>(self, number: u128) -> Result<Node, E> {
        self.node(NodeValue::Integer(number.try_into().unwrap_or(i128::MAX)))
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Node, E> {
        if number.is_finite() {
            return self.node(NodeValue::Float(number));
        }
        let word = match number {
            f64::INFINITY => ".inf",
            f64::NEG_INFINITY => "-.inf",
            _ => ".nan",
        };
        self.node(NodeValue::Text(word.to_owned()))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Node, E> {
        self.node(NodeValue::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Node, A::Error> {
        let id = self.0.next_id()?;
        let mut list = Vec::new();
        while let Some(item) = items.next_element_seed(NodeSeed(self.0))? {
            list.push(item);
        }
        Ok(Node {
            id,
            value: NodeValue::Sequence(list),
        })
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Node, A::Error> {
        let id = self.0.next_id()?;
        let mut mapping = Vec::new();
        while let Some(key) = entries.next_key_seed(NodeSeed(self.0))? {
            let value = entries.next_value_seed(NodeSeed(self.0))?;
            mapping.push((key.into_key(), value));
        }
        Ok(Node {
            id,
            value: NodeValue::Mapping(mapping),
        })
    }

    fn visit_enum<A: de::EnumAccess<'de>>(self, tagged: A) -> Result<Node, A::Error> {
        let id = self.0.next_id()?;
        let (tag, content) = tagged.variant::<String>()?;
        de::VariantAccess::newtype_variant::<de::IgnoredAny>(content)?;
        Ok(Node {
            id,
            value: NodeValue::Tagged(tag),
        })
    }
}

impl Node {
    fn into_key(self) -> Key {
        let text = match self.value {
            NodeValue::Text(text) => text,
            NodeValue::Integer(number) => number.to_string(),
            NodeValue::Float(number) => number.to_string(),
            NodeValue::Bool(truth) => truth.to_string(),
            NodeValue::Null
            | NodeValue::Sequence(_)
            | NodeValue::Mapping(_)
            | NodeValue::Tagged(_) => String::new(),
        };
        Key { id: self.id, text }
    }
}
