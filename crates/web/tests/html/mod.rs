//! A small, strict reader of the HTML these pages are written in: every tag is closed in its order
//! or is one that has no end. It understands no style and no script.

/// An element with its attributes and what stands in it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: Vec<(String, String)>,
    pub(crate) inside: Vec<Node>,
}

/// What stands in an element.
#[derive(Debug, Clone)]
pub(crate) enum Node {
    Element(Element),
    Text(String),
}

const VOID: [&str; 9] = ["meta", "link", "input", "br", "hr", "img", "path", "line", "rect"];

impl Element {
    /// An attribute.
    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str())
    }

    /// It has this class.
    pub(crate) fn has_class(&self, class: &str) -> bool {
        self.get("class").is_some_and(|list| list.split(' ').any(|one| one == class))
    }

    /// All elements in it that a test holds for, in order.
    pub(crate) fn all(&self, test: &dyn Fn(&Element) -> bool) -> Vec<&Element> {
        let mut found = Vec::new();
        for node in &self.inside {
            if let Node::Element(element) = node {
                if test(element) {
                    found.push(element);
                }
                found.extend(element.all(test));
            }
        }
        found
    }

    /// All elements of a name.
    pub(crate) fn named(&self, name: &str) -> Vec<&Element> {
        self.all(&|element| element.name == name)
    }

    /// The element with an id.
    pub(crate) fn id(&self, id: &str) -> &Element {
        let found = self.all(&|element| element.get("id") == Some(id));
        assert_eq!(found.len(), 1, "elements with id {id}");
        found[0]
    }

    /// Its text, spaces made single.
    pub(crate) fn text(&self) -> String {
        let mut text = String::new();
        self.gather(&mut text);
        text.split([' ', '\n']).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
    }

    fn gather(&self, text: &mut String) {
        for node in &self.inside {
            match node {
                Node::Text(words) => text.push_str(words),
                Node::Element(element) => {
                    element.gather(text);
                    if matches!(element.name.as_str(), "td" | "th" | "p" | "li" | "div" | "br") {
                        text.push(' ');
                    }
                }
            }
        }
    }
}

/// Reads a page; panics with the place where it is not well formed.
pub(crate) fn read(page: &str) -> Element {
    let page = page.strip_prefix("<!DOCTYPE html>").expect("a document type");
    let mut open = vec![Element::default()];
    let mut rest = page;
    while let Some(at) = rest.find('<') {
        push_text(&mut open, &rest[..at]);
        let end = tag_end(&rest[at..]) + at;
        let tag = &rest[at + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            let element = open.pop().unwrap();
            assert_eq!(element.name, name, "closed in order");
            open.last_mut().expect("something is open").inside.push(Node::Element(element));
            continue;
        }
        let element = element(tag.trim_end_matches('/'));
        let raw = matches!(element.name.as_str(), "style" | "script");
        let ends = tag.ends_with('/') || VOID.contains(&element.name.as_str());
        // An SVG shape is closed by its own end tag where one follows at once.
        let closing = format!("</{}>", element.name);
        if ends && !rest.starts_with(&closing) {
            open.last_mut().unwrap().inside.push(Node::Element(element));
        } else if raw {
            let end = rest.find(&closing).expect("an end of style or script");
            rest = &rest[end + closing.len()..];
            open.last_mut().unwrap().inside.push(Node::Element(element));
        } else {
            open.push(element);
        }
    }
    assert_eq!(open.len(), 1, "everything is closed: {:?}", open.last().map(|e| &e.name));
    open.pop().unwrap()
}

fn push_text(open: &mut [Element], text: &str) {
    assert!(!text.contains('>'), "a stray > in {text:?}");
    if !text.is_empty() {
        let words = text
            .replace("&lt;", "<")
            .replace("&gt;", ">")
            .replace("&quot;", "\"")
            .replace("&amp;", "&");
        open.last_mut().unwrap().inside.push(Node::Text(words));
    }
}

/// The `>` that ends a tag: not one within quotes.
fn tag_end(text: &str) -> usize {
    let mut quoted = false;
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b'>' if !quoted => return at,
            _ => {}
        }
    }
    panic!("a tag without an end: {}", &text[..text.len().min(60)]);
}

fn element(tag: &str) -> Element {
    let (name, mut rest) = tag.split_once(' ').unwrap_or((tag, ""));
    let mut attributes = Vec::new();
    while !rest.trim().is_empty() {
        rest = rest.trim_start();
        match rest.find(['=', ' ']) {
            Some(at) if rest.as_bytes()[at] == b'=' => {
                let value = rest[at + 1..].strip_prefix('"').expect("a quoted value");
                let end = value.find('"').expect("an end of the value");
                attributes.push((rest[..at].to_owned(), value[..end].to_owned()));
                rest = &value[end + 1..];
            }
            Some(at) => {
                attributes.push((rest[..at].to_owned(), String::new()));
                rest = &rest[at..];
            }
            None => {
                attributes.push((rest.to_owned(), String::new()));
                rest = "";
            }
        }
    }
    Element { name: name.to_owned(), attributes, inside: Vec::new() }
}
