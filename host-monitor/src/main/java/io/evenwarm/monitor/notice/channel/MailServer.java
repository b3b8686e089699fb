package io.evenwarm.monitor.notice.channel;

import io.evenwarm.monitor.notice.Secret;
import java.time.Duration;
import java.util.Optional;

/**
 * Where mail is handed in.
 *
 * @param host its name, as in its certificate
 * @param port 587 with STARTTLS, 465 with TLS from the first octet (RFC 8314 s.3.3)
 * @param security how the way there is kept private
 * @param login user and password; empty where the server asks for none
 * @param from the address that the mails come from
 * @param roots whose certificates are believed
 * @param limit for connecting, and again for each answer
 */
public record MailServer(
        String host,
        int port,
        Security security,
        Optional<Login> login,
        String from,
        TrustedRoots roots,
        Duration limit) {

    /** How the way to the server is kept private. There is no way without. */
    public enum Security {
        /** Begins in the clear and must change to TLS before anything is said (RFC 3207). */
        STARTTLS,
        /** TLS from the first octet (RFC 8314 s.3.3). */
        TLS
    }

    /** Who hands in. */
    public record Login(String user, Secret password) {}
}
