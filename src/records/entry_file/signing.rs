//! Signatures, returns and countersignatures.

use crate::domain::entry::{Act, Remark, Signature, SignedVerdict};
use crate::records::form::{Fields, keys};
use crate::records::words::{bytes, count, disposition, name, signing, verbatim, words};

keys! {
    fn signed_verdict -> SignedVerdict, Flow {
        part "part" need name,
        disposition "disposition" may disposition,
        holds "holds" row words,
    }

    fn remark -> Remark, Flow {
        step "step" may name,
        text "text" need words,
    }

    fn named -> Named, Flow {
        entry "entry" need count,
        chain "chain" need verbatim,
    }
}

/// A sign entry, named by number and chain value.
struct Named {
    entry: u32,
    chain: String,
}

pub(super) fn sign(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let value = if let Some(Act::Sign(signature)) = act { Some(signature) } else { None };
    let what = fields.need("signs", signing, value.map(|signature| &signature.what));
    let length = fields.need("length", bytes, value.map(|signature| &signature.length));
    let sha256 = fields.need("sha256", verbatim, value.map(|signature| &signature.sha256));
    let standing = fields.list("standing", signed_verdict, value.map(|signature| &signature.standing));
    let photos = fields.list("photos", verbatim, value.map(|signature| &signature.photos));
    let carried = fields.list("carried", words, value.map(|signature| &signature.carried));
    Some(Act::Sign(Signature {
        what: what?,
        length: length?,
        sha256: sha256?,
        standing: standing?,
        photos: photos?,
        carried: carried?,
    }))
}

pub(super) fn returned(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let (sign, remarks) = match act {
        Some(Act::Return { sign, chain, remarks }) => {
            (Some(Named { entry: *sign, chain: chain.clone() }), Some(remarks))
        }
        _ => (None, None),
    };
    let sign = fields.need("sign", named, sign.as_ref());
    let remarks = fields.list("remarks", remark, remarks);
    let Named { entry, chain } = sign?;
    Some(Act::Return { sign: entry, chain, remarks: remarks? })
}

pub(super) fn countersign(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let sign = match act {
        Some(Act::Countersign { sign, chain }) => Some(Named { entry: *sign, chain: chain.clone() }),
        _ => None,
    };
    let Named { entry, chain } = fields.need("sign", named, sign.as_ref())?;
    Some(Act::Countersign { sign: entry, chain })
}
