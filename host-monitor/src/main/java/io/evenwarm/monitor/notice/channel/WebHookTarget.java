package io.evenwarm.monitor.notice.channel;

import io.evenwarm.monitor.notice.Secret;
import java.net.URI;
import java.time.Duration;
import java.util.Optional;

/**
 * Where a web hook goes.
 *
 * @param address {@code https://…}; a secret, since many services put a key into it
 * @param template what is sent
 * @param key signs it; empty where the receiver checks no signature
 * @param roots whose certificates are believed
 * @param limit from the first octet to the answer's first line
 */
public record WebHookTarget(
        Secret address,
        JsonTemplate template,
        Optional<WebHookSignature> key,
        TrustedRoots roots,
        Duration limit) {

    /**
     * An address that is allowed.
     *
     * @throws IllegalArgumentException when it is not; says nothing of the address itself
     */
    public static URI requireAddress(String text) {
        try {
            URI uri = URI.create(text);
            if (!"https".equals(uri.getScheme())
                    || uri.getHost() == null
                    || uri.getUserInfo() != null) {
                throw new IllegalArgumentException("no https address");
            }
            return uri;
        } catch (IllegalArgumentException e) {
            throw new IllegalArgumentException("no https address");
        }
    }
}
