package io.evenwarm.monitor.web;

import java.io.IOException;
import java.util.Optional;

/** What the links in notices are for, as the page needs it. Any thread may call. */
public interface NoticeAnswers {

    /** No notice holds a link. */
    NoticeAnswers NONE =
            new NoticeAnswers() {
                @Override
                public Optional<Told> told(String token) {
                    return Optional.empty();
                }

                @Override
                public Optional<Answer> acknowledge(String token) {
                    return Optional.empty();
                }
            };

    /**
     * The notice that a link stood in, and nothing that it did not say; empty when there is no such
     * link, or no longer. Changes nothing.
     */
    Optional<Told> told(String token) throws IOException;

    /** Acknowledges what a link is for; empty when there is no such link, or no longer. */
    Optional<Answer> acknowledge(String token) throws IOException;

    /** What a notice said. */
    record Told(String subject, String body) {}

    /**
     * What came of it.
     *
     * @param isAcknowledged whether the event is acknowledged now
     * @param words for the person
     */
    record Answer(boolean isAcknowledged, String words) {}
}
