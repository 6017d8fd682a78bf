//! Which layer it is that something is drawn in (ISO 32000-1:2008, 8.11.3).

use super::drawing::Drawing;
use super::file::Layer;
use super::tokens::Token;
use lopdf::{Dictionary, Object};

/// More layers than a page of sheets has.
const MOST_KNOWN: usize = 8;

/// What a name among some resources says of the layer.
pub(super) struct Known {
    within: Option<*const Dictionary>,
    name: Vec<u8>,
    layer: Option<Layer>,
}

impl<'f> Drawing<'f, '_> {
    /// The layer of what is drawn now.
    pub(super) fn layer(&self) -> Layer {
        self.layers.last().copied().unwrap_or_default()
    }

    /// Enters a layer within the one that is open; a hidden one hides all in it.
    pub(super) fn push_layer(&mut self, layer: Option<Layer>) -> Result<(), String> {
        let around = self.layer();
        let inner = layer.filter(|l| around != Layer::Hidden && *l != Layer::None);
        if self.layers.len() >= self.budget.depth * 16 {
            return Err("its content nests more parts than any page's".to_owned());
        }
        self.layers.push(inner.unwrap_or(around));
        Ok(())
    }

    pub(super) fn enter(
        &mut self,
        operands: &[Token<'_>],
        resources: Option<&'f Dictionary>,
    ) -> Result<(), String> {
        let layer = match operands {
            [Token::Name(tag), Token::Name(name)] if tag.as_ref() == b"OC" => {
                self.named_layer(name, resources)
            }
            _ => None,
        };
        self.push_layer(layer)
    }

    /// The layer of that name, looked up but once: a page changes between few of them.
    fn named_layer(
        &mut self,
        name: &[u8],
        resources: Option<&'f Dictionary>,
    ) -> Option<Layer> {
        let within = resources.map(std::ptr::from_ref);
        let is_it = |known: &&Known| known.within == within && known.name == name;
        if let Some(known) = self.known.iter().find(is_it) {
            return known.layer;
        }
        let found = self.file.resource(resources, "Properties", name);
        let layer = match found {
            Some((id, Object::Dictionary(group))) => Some(self.file.layer(id, group)),
            _ => None,
        };
        if self.known.len() < MOST_KNOWN {
            self.known.push(Known { within, name: name.to_vec(), layer });
        }
        layer
    }
}
