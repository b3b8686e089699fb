package io.evenwarm.link;

import io.evenwarm.message.Message;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.util.HexFormat;
import java.util.Locale;

/**
 * The six digits that two programs show while they are paired and that a person compares.
 *
 * <p>Why not a code that is typed in, sent over TLS: whoever sits between the two, with a TLS
 * session to each, would pass it on and be paired with both. Here the digits depend on the keys
 * that each end really sees, so that with somebody in between the two ends show different ones.
 *
 * <p>Why the commitment: digits are few, and somebody in between could choose nonces until both
 * ends' digits are the same. So the agent binds itself to its nonce, by a hash, before it sees the
 * monitor's, and shows the nonce after. Each side's nonce is then fixed before the other's is
 * known, and somebody in between has one chance in {@value #CODES} a try [1][2].
 *
 * <ol>
 *   <li>[1] RFC 6189 s.4.4.1.1 (hash commitment) and s.7 (short authentication string)
 *   <li>[2] Bluetooth Core Specification 5.4, vol. 2, part H, s.7.2.1 (numeric comparison) and
 *       s.7.7.4 (six digits: a 32-bit value modulo 10^6)
 * </ol>
 */
public final class PairingCode {

    private static final int CODES = 1_000_000;
    private static final HexFormat HEX = HexFormat.of();

    private PairingCode() {}

    /** A new nonce: {@value Message#NONCE_OCTETS} random octets; hexadecimal. */
    public static String nonce() {
        byte[] octets = new byte[Message.NONCE_OCTETS];
        new SecureRandom().nextBytes(octets);
        return HEX.formatHex(octets);
    }

    /**
     * What binds the agent to its nonce: SHA-256 over "evenwarm pairing commitment 1" in ASCII, the
     * 32 octets of each pin, and the nonce; hexadecimal.
     */
    public static String commitment(KeyPin agent, KeyPin monitor, String agentNonce) {
        return HEX.formatHex(sha256("evenwarm pairing commitment 1", agent, monitor, agentNonce));
    }

    /**
     * The six digits: the first 8 octets of SHA-256 over "evenwarm pairing code 1" in ASCII, the 32
     * octets of each pin, the agent's nonce and the monitor's, as an unsigned number, most
     * significant octet first, modulo 1,000,000.
     */
    public static String code(
            KeyPin agent, KeyPin monitor, String agentNonce, String monitorNonce) {
        byte[] hash = sha256("evenwarm pairing code 1", agent, monitor, agentNonce, monitorNonce);
        long number = Long.remainderUnsigned(ByteBuffer.wrap(hash).getLong(), CODES);
        return String.format(Locale.ROOT, "%06d", number);
    }

    /** As people read it: two groups of three. */
    public static String spaced(String code) {
        return code.length() == 6 ? code.substring(0, 3) + " " + code.substring(3) : code;
    }

    private static byte[] sha256(String purpose, KeyPin agent, KeyPin monitor, String... nonces) {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            digest.update(purpose.getBytes(StandardCharsets.US_ASCII));
            digest.update(HEX.parseHex(agent.sha256Hex()));
            digest.update(HEX.parseHex(monitor.sha256Hex()));
            for (String nonce : nonces) {
                digest.update(HEX.parseHex(nonce));
            }
            return digest.digest();
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
