package io.evenwarm.link;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.PublicKey;
import java.util.HexFormat;
import java.util.Locale;
import java.util.regex.Pattern;

/**
 * Names a program by its public key: the SHA-256 of the key's SubjectPublicKeyInfo in DER (RFC 5280
 * s.4.1), as RFC 7469 s.2.4 pins keys. Two sides that know each other's pin need no authority and
 * no clock.
 *
 * @param sha256Hex 64 lower-case hexadecimal digits
 */
public record KeyPin(String sha256Hex) {

    private static final String PREFIX = "sha256:";
    private static final Pattern HEX = Pattern.compile("[0-9a-f]{64}");

    public KeyPin {
        if (!HEX.matcher(sha256Hex).matches()) {
            throw new IllegalArgumentException(
                    "a key pin has 64 lower-case hexadecimal digits but was \"" + sha256Hex + "\"");
        }
    }

    /** The pin of a key. */
    public static KeyPin of(PublicKey key) {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            return new KeyPin(HexFormat.of().formatHex(digest.digest(key.getEncoded())));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    /**
     * Reads what {@link #toString()} writes; capitals and spaces around it are allowed.
     *
     * @throws IllegalArgumentException says what was found and what is allowed
     */
    public static KeyPin parse(String text) {
        String trimmed = text.strip().toLowerCase(Locale.ROOT);
        if (!trimmed.startsWith(PREFIX)
                || !HEX.matcher(trimmed.substring(PREFIX.length())).matches()) {
            throw new IllegalArgumentException(
                    "a key pin must be sha256: and 64 hexadecimal digits but was \"" + text + "\"");
        }
        return new KeyPin(trimmed.substring(PREFIX.length()));
    }

    /**
     * For example {@code sha256:9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08}.
     */
    @Override
    public String toString() {
        return PREFIX + sha256Hex;
    }
}
