//! By what it is told whether something stored still stands.

/// Two independent 64-bit sums; that two texts share both is not to be feared.
pub(crate) type Fingerprint = [u64; 2];

/// That of bytes, after those that `begin` is the fingerprint of.
pub(crate) fn fingerprint(begin: Fingerprint, bytes: &[u8]) -> Fingerprint {
    let [mut a, mut b] = begin;
    let (words, rest) = bytes.as_chunks::<8>();
    let rest = rest.iter().map(|byte| u64::from(*byte) | 1 << 8);
    for word in words.iter().map(|word| u64::from_le_bytes(*word)).chain(rest) {
        a = (a ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        a ^= a >> 29;
        b = (b.rotate_left(23) ^ word).wrapping_mul(0xd6e8_feb8_6659_fd93);
        b ^= b >> 31;
    }
    [a ^ bytes.len() as u64, b]
}
