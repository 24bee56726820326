//! Hashes that tell whether something has changed; they guard against nobody.

/// FNV-1a, 64 bits (Fowler, Noll, Vo: <http://www.isthe.com/chongo/tech/comp/fnv/>): the same on
/// every machine and in every version, as the standard library's hashes are not.
pub(crate) fn fnv_1a(bytes: impl Iterator<Item = u8>) -> u64 {
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// The same in hexadecimal digits.
pub(crate) fn hexadecimal(bytes: impl Iterator<Item = u8>) -> String {
    format!("{:016x}", fnv_1a(bytes))
}
