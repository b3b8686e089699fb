package io.evenwarm.monitor.notice;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.UUID;

/**
 * Whom a delivery is for.
 *
 * @param person as the settings name them
 * @param mail their address, where they have one
 */
public record Recipient(String person, Optional<String> mail) {

    private static final int TAG_DIGITS = 8;

    /**
     * Tells this recipient from others in ids that leave the house, and tells nothing else of them:
     * eight hex digits, always the same.
     */
    public String tag() {
        return UUID.nameUUIDFromBytes(
                        (person + "\n" + mail.orElse("")).getBytes(StandardCharsets.UTF_8))
                .toString()
                .substring(0, TAG_DIGITS);
    }
}
