package io.evenwarm.monitor.notice;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.regex.Pattern;

/**
 * One message about one event, in words and as facts. Immutable: what is tried again tomorrow says
 * what it said today.
 *
 * @param eventId what it is about: 1 to 64 letters, digits or {@code . _ -}, unique for ever
 * @param revision counts the notices of the event, from 1
 * @param at when it was written, by the wall clock
 * @param subject one line
 * @param body plain text, lines end with {@code \n}
 * @param cabinets the facts that the words are from; all cabinets of the event
 */
public record Notice(
        String eventId,
        int revision,
        NoticeKind kind,
        Instant at,
        NoticePriority priority,
        String subject,
        String body,
        List<CabinetFacts> cabinets) {

    /** What an event's id may be: it stands in headers, topics and database rows. */
    private static final Pattern EVENT_ID = Pattern.compile("[A-Za-z0-9._-]{1,64}");

    public Notice {
        if (!EVENT_ID.matcher(eventId).matches()) {
            throw new IllegalArgumentException(
                    "an event's id must be 1 to 64 of A-Z a-z 0-9 . _ - but was \""
                            + PlainLine.of(eventId, 80)
                            + "\"");
        }
        if (revision < 1) {
            throw new IllegalArgumentException(
                    "a notice's revision must be 1 or more but was " + revision);
        }
        if (subject.isBlank() || !PlainLine.isOne(subject)) {
            throw new IllegalArgumentException(
                    "a notice's subject must be one line but was \""
                            + PlainLine.of(subject, 200)
                            + "\"");
        }
        cabinets = List.copyOf(cabinets);
    }

    /**
     * The same for the same event and revision, whoever asks: what is sent twice is known as the
     * same, and a follow-up can name the first notice of its event. A name-based UUID (RFC 4122
     * s.4.3).
     */
    public UUID id() {
        return idOf(eventId, revision);
    }

    /** As {@link #id()} of the first notice of the same event. */
    public UUID firstId() {
        return idOf(eventId, 1);
    }

    private static UUID idOf(String eventId, int revision) {
        return UUID.nameUUIDFromBytes(
                ("evenwarm notice " + eventId + " " + revision).getBytes(StandardCharsets.UTF_8));
    }
}
