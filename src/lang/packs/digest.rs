//! What the texts of a pack come to in one number, SHA-256 (FIPS 180-4). It
//! tells a change, and anybody can work it out: in the pack's folder,
//! `LC_ALL=C sha256sum pack.toml *.checklist | sha256sum`.

use super::text::PackText;

/// The fractional parts of the square roots of the first eight primes.
const BEGIN: [u32; 8] =
    [0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19];

/// Those of the cube roots of the first 64 primes.
const ROUNDS: [u32; 64] = [
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5, 0xd807aa98,
    0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174, 0xe49b69c1, 0xefbe4786,
    0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da, 0x983e5152, 0xa831c66d, 0xb00327c8,
    0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967, 0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13,
    0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819,
    0xd6990624, 0xf40e3585, 0x106aa070, 0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a,
    0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7,
    0xc67178f2,
];

const BLOCK: usize = 64;

/// The digest of a pack: that of a list with one line for each of its files,
/// its digest and its name within the pack.
pub(super) fn digest_of(pack: &PackText) -> String {
    let mut list = format!("{}  pack.toml\n", hex(pack.manifest.as_bytes()));
    for (name, text) in pack.sorted_files() {
        list.push_str(&format!("{}  {}\n", hex(text.as_bytes()), within(&pack.name, name)));
    }
    hex(list.as_bytes())
}

/// The name of a file within its pack, wherever that stands.
fn within(pack: &str, file: &str) -> String {
    let pack = pack.trim_end_matches(['/', '\\']);
    let file = file.strip_prefix("rules/").unwrap_or(file);
    file.strip_prefix(pack).unwrap_or(file).replace('\\', "/").trim_start_matches('/').to_owned()
}

/// SHA-256 in hex digits.
fn hex(bytes: &[u8]) -> String {
    let blocks = bytes.chunks_exact(BLOCK);
    // A bit that is set, then none, then the length in bits.
    let mut rest = blocks.remainder().to_vec();
    rest.push(0x80);
    while rest.len() % BLOCK != BLOCK.saturating_sub(8) {
        rest.push(0);
    }
    let bits = u64::try_from(bytes.len()).unwrap_or(u64::MAX).saturating_mul(8);
    rest.extend(bits.to_be_bytes());
    let state = blocks.chain(rest.chunks_exact(BLOCK)).fold(BEGIN, mixed);
    state.iter().map(|word| format!("{word:08x}")).collect()
}

/// The state after one more block.
fn mixed(state: [u32; 8], block: &[u8]) -> [u32; 8] {
    let mut words = [0u32; 16];
    for (word, bytes) in words.iter_mut().zip(block.chunks_exact(4)) {
        *word = bytes.iter().fold(0, |word, byte| word << 8 | u32::from(*byte));
    }
    let [mut a, mut b, mut c, mut d, mut e, mut f, mut g, mut h] = state;
    for constant in ROUNDS {
        let [w0, w1, w2, w3, w4, w5, w6, w7, w8, w9, w10, w11, w12, w13, w14, w15] = words;
        let choice = (e & f) ^ (!e & g);
        let majority = (a & b) ^ (a & c) ^ (b & c);
        let large_e = e.rotate_right(6) ^ e.rotate_right(11) ^ e.rotate_right(25);
        let large_a = a.rotate_right(2) ^ a.rotate_right(13) ^ a.rotate_right(22);
        let one = h.wrapping_add(large_e).wrapping_add(choice).wrapping_add(constant).wrapping_add(w0);
        let two = large_a.wrapping_add(majority);
        [h, g, f, e, d, c, b, a] = [g, f, e, d.wrapping_add(one), c, b, a, one.wrapping_add(two)];
        let small_1 = w1.rotate_right(7) ^ w1.rotate_right(18) ^ (w1 >> 3);
        let small_14 = w14.rotate_right(17) ^ w14.rotate_right(19) ^ (w14 >> 10);
        let next = w0.wrapping_add(small_1).wrapping_add(w9).wrapping_add(small_14);
        words = [w1, w2, w3, w4, w5, w6, w7, w8, w9, w10, w11, w12, w13, w14, w15, next];
    }
    let mut after = [a, b, c, d, e, f, g, h];
    after.iter_mut().zip(state).for_each(|(word, before)| *word = word.wrapping_add(before));
    after
}

#[cfg(test)]
mod tests {
    use super::{digest_of, hex, within};
    use crate::packs::PackText;

    /// The examples of FIPS 180-4, and the lengths around a whole block.
    #[test]
    fn the_digests_are_the_published_ones() {
        let published = [
            ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
            ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
            (
                "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
                "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
            ),
        ];
        for (text, digest) in published {
            assert_eq!(hex(text.as_bytes()), digest);
        }
        // As `sha256sum` has them.
        let of_a = [
            (55, "9f4390f8d30c2dd92ec9f095b65e2b9ae9b0a925a5258e241c9f1e910f734318"),
            (56, "b35439a4ac6f0948b6d6f9e3c6af0f5f590ce20f1bde7090ef7970686ec6738a"),
            (63, "7d3e74a05d7db15bce4ad9ec0658ea98e3f06eeecf16b4c6fff2da457ddc2f34"),
            (64, "ffe054fe7ae0cb6dc65c3af9b61d5209f439851db43d0ba5997337df154668eb"),
            (65, "635361c48bb9eab14198e76ea8ab7f1a41685d6ad62aa9146d301d4f17eb0ae0"),
            (1000, "41edece42d63e8d9bf515a9ba6932e1c20cbc9f5a5d134645adb5db1b9737ea3"),
        ];
        for (length, digest) in of_a {
            assert_eq!(hex("a".repeat(length).as_bytes()), digest, "{length}");
        }
    }

    /// Where a pack stands, and in which order its files were found, is not of it.
    #[test]
    fn a_digest_is_of_the_texts_alone() {
        let pack = |name: &str, files: &[(&str, &'static str)]| {
            let files = files.iter().map(|(file, text)| ((*file).to_owned(), (*text).into())).collect();
            digest_of(&PackText { name: name.to_owned(), manifest: "name = 'kit'\n".to_owned(), files })
        };
        let one = pack("kit", &[("rules/kit/a.checklist", "-- a\n"), ("rules/kit/b.checklist", "-- b\n")]);
        let two = pack("shed/kit/", &[("shed/kit/b.checklist", "-- b\n"), ("shed/kit/a.checklist", "-- a\n")]);
        assert_eq!(one, two);
        assert_eq!(one, "54ed9e0e18d7616a51b8ac44f4c787f3ecdeea880a3dabbdee93f90db823d49d");
        assert_ne!(one, pack("kit", &[("rules/kit/a.checklist", "-- b\n"), ("rules/kit/b.checklist", "-- a\n")]));
        assert_eq!(within("shed\\kit", "shed\\kit\\more\\a.checklist"), "more/a.checklist");
    }
}
