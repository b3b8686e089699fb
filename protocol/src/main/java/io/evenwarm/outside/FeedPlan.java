package io.evenwarm.outside;

import io.evenwarm.link.Authority;
import io.evenwarm.settings.FileKey;
import io.evenwarm.settings.TomlSection;
import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import javax.net.ssl.SSLContext;

/**
 * Which outside switch is fed, and how often.
 *
 * @param address with its secret; never shown
 * @param every time between two calls
 * @param trust empty: the system's authorities
 */
public record FeedPlan(URI address, Duration every, Optional<SSLContext> trust) {

    private static final int LEAST_SECONDS = 10;
    private static final int MOST_SECONDS = 120;
    private static final int USUAL_SECONDS = 60;
    private static final String AUTHORITY_FORM = "a file of certificates in PEM";

    /**
     * Reads {@code address_file}, {@code every_seconds} and {@code authority_file}, alike in the
     * agent's configuration and in the monitor's settings.
     *
     * @param folder at which paths begin that are not absolute
     * @return empty, with faults added, when something is wrong
     */
    public static Optional<FeedPlan> read(TomlSection section, Path folder) {
        Optional<URI> address =
                FileKey.secret(
                                section,
                                "address_file",
                                "which holds the switch's address, https://host/…",
                                folder,
                                FeedPlan::requireAddress)
                        .map(URI::create);
        int seconds =
                section.whole("every_seconds", LEAST_SECONDS, MOST_SECONDS, "s")
                        .orElse(USUAL_SECONDS);
        Optional<SSLContext> trust =
                FileKey.read(
                        section, "authority_file", AUTHORITY_FORM, folder, Authority::trusting);
        return address.map(where -> new FeedPlan(where, Duration.ofSeconds(seconds), trust));
    }

    private static String requireAddress(String text) {
        try {
            URI address = new URI(text);
            boolean isWeb =
                    "https".equals(address.getScheme()) || "http".equals(address.getScheme());
            if (isWeb && address.getHost() != null) {
                return text;
            }
        } catch (URISyntaxException e) {
            // Told without the text, which is a secret.
        }
        throw new IllegalArgumentException("no web address");
    }

    @Override
    public String toString() {
        return "FeedPlan[" + address.getHost() + "]";
    }
}
