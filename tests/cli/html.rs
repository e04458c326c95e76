//! Reads a page as a browser does, strictly, and gives what a reader sees.

use std::collections::BTreeSet;

/// Elements without an end.
const VOID: [&str; 4] = ["meta", "br", "hr", "input"];
/// Elements whose content is no markup.
const RAW: [&str; 2] = ["style", "script"];

/// A page, read.
#[derive(Default)]
pub(super) struct Html {
    /// Names of all elements.
    pub(super) elements: BTreeSet<String>,
    /// Names of all attributes.
    pub(super) attributes: BTreeSet<String>,
    pub(super) ids: BTreeSet<String>,
    pub(super) links: Vec<String>,
    /// What can be read, one space between words.
    pub(super) words: String,
    /// What scripts and styles hold, but for the page's data.
    pub(super) raw: String,
    /// What the one with the page's data holds.
    island: String,
}

impl Html {
    /// Reads a page; every element has its end, every id is the only one, every link within the page leads somewhere.
    pub(super) fn read(text: &str) -> Self {
        let mut html = Self::default();
        let mut open: Vec<String> = Vec::new();
        let mut rest = text
            .strip_prefix("<!DOCTYPE html>")
            .expect("a page says that it is HTML");
        while let Some(start) = rest.find('<') {
            html.say(&rest[..start]);
            let end = rest[start..].find('>').map(|end| start + end).expect("a tag ends");
            let tag = &rest[start + 1..end];
            rest = &rest[end + 1..];
            if let Some(name) = tag.strip_prefix('/') {
                assert_eq!(
                    open.pop().as_deref(),
                    Some(name),
                    "an element ends that is not the last one begun"
                );
                continue;
            }
            let name = html.element(tag);
            if RAW.contains(&name.as_str()) {
                let close = rest.find(&format!("</{name}>")).expect("a script or style ends");
                if tag.contains("id=\"island\"") {
                    html.island = rest[..close].to_owned();
                } else {
                    html.raw.push_str(&rest[..close]);
                }
                rest = &rest[close..];
            }
            // What a picture is made of may close itself.
            if !VOID.contains(&name.as_str()) && !tag.ends_with('/') {
                open.push(name);
            }
        }
        html.say(rest);
        assert_eq!(open, Vec::<String>::new(), "elements without an end");
        for link in &html.links {
            let target = link
                .strip_prefix('#')
                .unwrap_or_else(|| panic!("{link} leads away from the page"));
            assert!(html.ids.contains(target), "{link} leads nowhere");
        }
        html
    }

    /// The data for the page's script.
    pub(super) fn island(&self) -> &str {
        &self.island
    }

    fn element(&mut self, tag: &str) -> String {
        let (name, mut rest) = tag.trim_end_matches('/').split_once(' ').unwrap_or((tag, ""));
        self.elements.insert(name.to_owned());
        while !rest.is_empty() {
            let end = rest.find([' ', '=']).unwrap_or(rest.len());
            let attribute = &rest[..end];
            self.attributes.insert(attribute.to_owned());
            rest = &rest[end..];
            if let Some(quoted) = rest.strip_prefix("=\"") {
                let close = quoted.find('"').expect("an attribute's value ends");
                self.value(attribute, &unescaped(&quoted[..close]));
                rest = &quoted[close + 1..];
            }
            rest = rest.trim_start();
        }
        name.to_owned()
    }

    fn value(&mut self, attribute: &str, value: &str) {
        match attribute {
            "id" => assert!(self.ids.insert(value.to_owned()), "two elements have the id {value}"),
            "href" => self.links.push(value.to_owned()),
            _ => {}
        }
    }

    fn say(&mut self, text: &str) {
        for word in unescaped(text).split_whitespace() {
            if !self.words.is_empty() {
                self.words.push(' ');
            }
            self.words.push_str(word);
        }
    }
}

fn unescaped(text: &str) -> String {
    let text = text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"");
    text.replace("&amp;", "&")
}
