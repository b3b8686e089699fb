package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.channel.KillablePost;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;

/** What was found and acknowledged in a flood, and whether people were told as they should. */
final class FloodRecord {

    /** What was under way to a server when somebody acknowledged it may still be taken there. */
    private static final Duration UNDER_WAY = Duration.ofSeconds(2);

    /** What the monitor was just about to look at when the finding went. */
    private static final Duration UNDER_LOOK = Duration.ofSeconds(2);

    private record Found(Instant at, CabinetName cabinet, FindingCode code) {}

    private record Acknowledged(String messageId, Instant asked, Instant answered) {}

    /** Something that a person was sent. */
    private record Sent(Instant at, String event, boolean isOver) {}

    private final List<Found> found = new CopyOnWriteArrayList<>();
    private final List<Found> gone = new CopyOnWriteArrayList<>();
    private final List<Acknowledged> acknowledged = new CopyOnWriteArrayList<>();

    void found(CabinetName cabinet, FindingCode code) {
        found.add(new Found(SystemClock.wall().now(), cabinet, code));
    }

    void gone(CabinetName cabinet, FindingCode code) {
        gone.add(new Found(SystemClock.wall().now(), cabinet, code));
    }

    void acknowledged(String messageId, Instant asked, Instant answered) {
        acknowledged.add(new Acknowledged(messageId, asked, answered));
    }

    /**
     * @param missed what a person had to hear of and did not
     * @param again what a person was told of after it had been acknowledged
     */
    record Result(
            int annunciations,
            int acknowledged,
            List<String> missed,
            List<String> again,
            String words) {}

    Result check(FloodStore store, KillablePost post) throws IOException {
        List<FloodStore.Change> annunciations = store.annunciations();
        List<FloodStore.Change> acknowledgements = store.acknowledgements();
        Map<String, FloodStore.Told> notices = store.notices();
        Map<String, String> eventOf = new HashMap<>();
        List<Sent> mailed = new ArrayList<>();
        for (KillablePost.Mail mail : post.mails()) {
            FloodStore.Told told = notices.get(uuid(mail.id()));
            if (told == null) {
                throw new AssertionError("a mail of no notice: " + mail);
            }
            boolean isOver = mail.subject().startsWith("All clear");
            mailed.add(new Sent(mail.at(), told.event(), isOver));
            eventOf.put(mail.id(), told.event());
        }
        List<Sent> published =
                post.published().stream()
                        .map(
                                one ->
                                        new Sent(
                                                one.at(),
                                                one.notice().eventId(),
                                                one.notice().kind() == NoticeKind.ALL_CLEAR))
                        .toList();
        List<String> missed = new ArrayList<>();
        for (Found one : found) {
            Instant until = until(one);
            if (annunciations.stream().noneMatch(change -> isOf(one, until, change))) {
                missed.add("found, and no alarm: " + one);
            }
        }
        Map<String, List<Sent>> ways = Map.of("mail", mailed, "broker", published);
        for (FloodStore.Change change : annunciations) {
            boolean isKnown =
                    acknowledgements.stream()
                            .anyMatch(
                                    known ->
                                            known.event().equals(change.event())
                                                    && known.number() > change.number());
            ways.forEach(
                    (way, all) -> {
                        if (!isKnown && all.stream().noneMatch(sent -> tellsOf(sent, change))) {
                            missed.add("not told by " + way + ": " + change);
                        }
                    });
        }
        List<String> again = new ArrayList<>();
        for (Acknowledged one : acknowledged) {
            String event = eventOf.getOrDefault(one.messageId(), "");
            ways.forEach(
                    (way, all) ->
                            all.stream()
                                    .filter(sent -> isAgain(sent, event, one, annunciations))
                                    .forEach(
                                            sent ->
                                                    again.add(
                                                            event + " by " + way + " at "
                                                                    + sent.at() + " after "
                                                                    + one)));
        }
        long events = annunciations.stream().map(FloodStore.Change::event).distinct().count();
        long distinct = post.mails().stream().map(KillablePost.Mail::id).distinct().count();
        long repeated =
                mailed.size()
                        - distinct
                        + published.size()
                        - post.published().stream()
                                .map(one -> one.notice().id())
                                .distinct()
                                .count();
        return new Result(
                annunciations.size(),
                acknowledged.size(),
                missed,
                again,
                found.size()
                        + " findings, "
                        + annunciations.size()
                        + " alarms came into view in "
                        + events
                        + " events; "
                        + mailed.size()
                        + " mails and "
                        + published.size()
                        + " messages of the broker, "
                        + repeated
                        + " of both the same once more; "
                        + acknowledged.size()
                        + " acknowledgements by link; not told "
                        + missed.size()
                        + ", told again after it was acknowledged "
                        + again.size());
    }

    /** The id of a notice stands before the dot of its mail's Message-ID. */
    private static String uuid(String messageId) {
        return messageId.substring(1, messageId.indexOf('.'));
    }

    /** Until when it was found; the monitor may have been killed at first. */
    private Instant until(Found one) {
        return gone.stream()
                .filter(other -> other.cabinet().equals(one.cabinet()))
                .filter(other -> other.code().equals(one.code()))
                .map(Found::at)
                .filter(at -> at.isAfter(one.at()))
                .findFirst()
                .orElseThrow()
                .plus(UNDER_LOOK);
    }

    private static boolean isOf(Found one, Instant until, FloodStore.Change change) {
        return change.code().equals(one.code().value())
                && change.subject().endsWith(one.cabinet().value())
                && !change.at().isBefore(one.at().minusSeconds(1))
                && change.at().isBefore(until);
    }

    /** What a notice says is what holds when it is written, and that is after the change. */
    private static boolean tellsOf(Sent sent, FloodStore.Change change) {
        return sent.event().equals(change.event()) && !sent.at().isBefore(change.at());
    }

    private static boolean isAgain(
            Sent sent, String event, Acknowledged known, List<FloodStore.Change> annunciations) {
        return sent.event().equals(event)
                && !sent.isOver()
                && sent.at().isAfter(known.answered().plus(UNDER_WAY))
                && annunciations.stream()
                        .noneMatch(
                                change ->
                                        change.event().equals(event)
                                                && change.at().isAfter(known.asked())
                                                && !change.at().isAfter(sent.at()));
    }
}
