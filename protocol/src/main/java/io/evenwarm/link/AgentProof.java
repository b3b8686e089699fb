package io.evenwarm.link;

import io.evenwarm.message.Message.KeyProof;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.PublicKey;
import java.security.Signature;
import java.util.HexFormat;
import java.util.Optional;

/**
 * How an agent proves its key on a line that proves nobody's by itself, such as a serial one.
 *
 * <p>The monitor's hello carries a nonce, and the agent's hello the signature over it. A nonce is
 * used in one session only, so that a recorded proof is of no use in another. What follows on the
 * line is not protected by it: it tells who answered, as the session began.
 */
public final class AgentProof {

    private static final HexFormat HEX = HexFormat.of();

    /** Keeps what is signed here apart from commands, and from what TLS 1.3 signs. */
    private static final byte[] PURPOSE = "evenwarm agent 1".getBytes(StandardCharsets.US_ASCII);

    private AgentProof() {}

    /** What a monitor's hello asks with; another one for each session. */
    public static String nonce() {
        return PairingCode.nonce();
    }

    /**
     * What the agent answers.
     *
     * @param nonce from the monitor's hello; hexadecimal
     */
    public static KeyProof prove(Identity own, String nonce) {
        return new KeyProof(own.publicKey(), HEX.formatHex(own.sign(signed(nonce))));
    }

    /**
     * The key that a proof says it is of, whether or not it proves it.
     *
     * @return empty when it is not an EC P-256 key
     */
    public static Optional<KeyPin> claimed(KeyProof proof) {
        return SignedCommands.pinOf(proof.key());
    }

    /**
     * Whether the sender holds the key that the proof names.
     *
     * @param nonce that was asked with in this session; hexadecimal
     */
    public static boolean holds(KeyProof proof, String nonce) {
        Optional<PublicKey> key = SignedCommands.publicKey(proof.key());
        if (key.isEmpty()) {
            return false;
        }
        try {
            Signature signature = Signature.getInstance(Identity.SIGNATURE);
            signature.initVerify(key.get());
            signature.update(signed(nonce));
            return signature.verify(HEX.parseHex(proof.signature()));
        } catch (GeneralSecurityException e) {
            // Not even the form of a signature.
            return false;
        }
    }

    private static byte[] signed(String nonce) {
        byte[] asked = HEX.parseHex(nonce);
        return ByteBuffer.allocate(PURPOSE.length + asked.length).put(PURPOSE).put(asked).array();
    }
}
