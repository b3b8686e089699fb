package io.evenwarm.monitor.notice;

import java.time.Instant;
import java.util.Optional;

/**
 * By what a person may acknowledge the event of one notice without a session.
 *
 * @param tokenHash the SHA-256 of its secret, in hex; the secret itself is kept nowhere
 * @param notice what they were told
 * @param person whom it was made for, as the settings name them
 * @param made when, by the wall clock
 * @param eventEnded when its event was over; empty while it is not
 */
public record AnswerLink(
        String tokenHash,
        Notice notice,
        String person,
        Instant made,
        Optional<Instant> eventEnded) {}
