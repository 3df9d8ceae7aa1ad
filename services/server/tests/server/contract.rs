//! What the contract has, by its descriptors.

use prost::Message;
use prost_types::{FileDescriptorSet, ServiceDescriptorProto};
use std::collections::BTreeSet;

/// Each service with its full name.
fn described() -> Vec<(String, ServiceDescriptorProto)> {
    let set = FileDescriptorSet::decode(ringland_proto::FILE_DESCRIPTOR_SET).unwrap();
    let mut described = Vec::new();
    for file in set.file {
        for service in &file.service {
            let name = format!("{}.{}", file.package(), service.name());
            described.push((name, service.clone()));
        }
    }
    described
}

/// `ringland.v1.UnitService`
pub fn services() -> Vec<String> {
    described().into_iter().map(|(name, _)| name).collect()
}

/// `ringland.v1.UnitService/CreateUnit`
pub fn methods() -> BTreeSet<String> {
    let of = |(name, service): (String, ServiceDescriptorProto)| {
        let methods = service.method.into_iter();
        methods
            .map(|method| format!("{name}/{}", method.name()))
            .collect::<Vec<_>>()
    };
    described().into_iter().flat_map(of).collect()
}
