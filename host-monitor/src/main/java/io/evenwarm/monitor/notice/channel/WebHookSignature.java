package io.evenwarm.monitor.notice.channel;

import io.evenwarm.monitor.notice.Secret;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.time.Instant;
import java.util.Base64;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * Signs what a web hook sends, so that its receiver knows who sent it: version 1, symmetric, of the
 * open specification "Standard Webhooks" [1].
 *
 * <p>[1] github.com/standard-webhooks/standard-webhooks, spec/standard-webhooks.md, "Webhook
 * headers" and "Signature scheme".
 */
public final class WebHookSignature {

    private static final String ALGORITHM = "HmacSHA256";
    private static final String KEY_BEGIN = "whsec_";

    /** [1], "Signature scheme", symmetric: 24 to 64 random octets (192 to 512 bits). */
    private static final int KEY_OCTETS_MIN = 24;

    private static final int KEY_OCTETS_MAX = 64;

    private final SecretKeySpec key;

    /**
     * Reads a key.
     *
     * @param secret {@code whsec_} and 24 to 64 octets in Base64
     * @throws IllegalArgumentException when it is none; says nothing of the key itself
     */
    public WebHookSignature(Secret secret) {
        String text = secret.reveal();
        byte[] octets;
        try {
            octets =
                    text.startsWith(KEY_BEGIN)
                            ? Base64.getDecoder().decode(text.substring(KEY_BEGIN.length()))
                            : new byte[0];
        } catch (IllegalArgumentException e) {
            octets = new byte[0];
        }
        if (octets.length < KEY_OCTETS_MIN || octets.length > KEY_OCTETS_MAX) {
            throw new IllegalArgumentException(
                    "a signing key must be "
                            + KEY_BEGIN
                            + " and "
                            + KEY_OCTETS_MIN
                            + " to "
                            + KEY_OCTETS_MAX
                            + " octets in Base64");
        }
        key = new SecretKeySpec(octets, ALGORITHM);
    }

    /** The value of {@code webhook-signature}: over id, time and body, with dots between. */
    String of(String id, Instant sent, byte[] body) {
        try {
            Mac mac = Mac.getInstance(ALGORITHM);
            mac.init(key);
            mac.update((id + "." + sent.getEpochSecond() + ".").getBytes(StandardCharsets.UTF_8));
            return "v1," + Base64.getEncoder().encodeToString(mac.doFinal(body));
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("this Java has no " + ALGORITHM, e);
        }
    }
}
