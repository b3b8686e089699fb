package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.notice.AnswerLink;
import io.evenwarm.monitor.notice.AnswerLinks;
import io.evenwarm.monitor.notice.NoticeDesk;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.web.NoticeAnswers;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.util.Optional;

/** Answers by the links in notices, as the phone page shows and takes them. */
final class DeskAnswers implements NoticeAnswers {

    private static final System.Logger LOG = System.getLogger(DeskAnswers.class.getName());

    private final AnswerLinks links;
    private final AlarmKeeper keeper;
    private final NoticeDesk desk;

    DeskAnswers(AnswerLinks links, AlarmKeeper keeper, NoticeDesk desk) {
        this.links = links;
        this.keeper = keeper;
        this.desk = desk;
    }

    @Override
    public Optional<Told> told(String token) throws IOException {
        return links.find(token)
                .map(link -> new Told(link.notice().subject(), link.notice().body()));
    }

    @Override
    public Optional<Answer> acknowledge(String token) throws IOException {
        return links.find(token).map(this::acknowledge);
    }

    private Answer acknowledge(AnswerLink link) {
        String event = link.notice().eventId();
        Optional<NoticePriority> now = desk.priority(event);
        if (now.isPresent() && now.get().compareTo(link.notice().priority()) > 0) {
            // Who presses has not read what they would answer for.
            return new Answer(
                    false,
                    "It has become more urgent since this notice was written, and is not"
                            + " acknowledged. Read the newest notice, and use the link in that.");
        }
        Optional<String> whyNot =
                keeper.acknowledge(event, link.person() + " (by the link in a notice)");
        LOG.log(
                Level.INFO,
                "{0} pressed the link of notice {1} of event {2}: {3}",
                link.person(),
                link.notice().revision(),
                event,
                whyNot.orElse("acknowledged"));
        return whyNot.map(
                        why ->
                                new Answer(
                                        false,
                                        "Nothing of this awaits an acknowledgement any more: it is"
                                                + " acknowledged, or over."))
                .orElseGet(() -> new Answer(true, "Acknowledged. Nobody else is told of it."));
    }
}
