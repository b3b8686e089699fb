package io.evenwarm.monitor.notice;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.UUID;

/**
 * Whom a delivery is for.
 *
 * @param person as the settings name them
 * @param mail their address, where they have one
 * @param answerAt a link by which they, and whoever they show it to, acknowledge what they are
 *     told; empty when there is none
 */
public record Recipient(String person, Optional<String> mail, Optional<String> answerAt) {

    private static final int TAG_DIGITS = 8;

    /** Somebody who has no link. */
    public Recipient(String person, Optional<String> mail) {
        this(person, mail, Optional.empty());
    }

    /** The same person, with a link or without. */
    Recipient answering(Optional<String> at) {
        return new Recipient(person, mail, at);
    }

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
