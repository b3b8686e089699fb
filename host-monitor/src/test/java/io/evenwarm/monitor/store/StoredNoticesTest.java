package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.notice.AnswerLink;
import io.evenwarm.monitor.notice.DeliveryKey;
import io.evenwarm.monitor.notice.DeliveryState;
import io.evenwarm.monitor.notice.Escalation;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.NoticeStore;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.monitor.notice.PendingDelivery;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is to be delivered is there after a restart, and what has ended is not. */
class StoredNoticesTest {

    private static final Instant LATER = Notices.NIGHT.plusSeconds(90);

    private final Path folder;
    private HistoryStore history;
    private NoticeStore store;

    StoredNoticesTest(@TempDir Path folder) throws StoreException {
        this.folder = folder;
        history = open(folder);
        store = history.notices();
    }

    HistoryStore open(Path at) throws StoreException {
        return HistoryStore.open(at);
    }

    @AfterEach
    void close() {
        history.close();
    }

    private void restart() throws StoreException {
        history.close();
        history = open(folder);
        store = history.notices();
    }

    private static PendingDelivery delivery(Notice notice, String person, String channel) {
        return new PendingDelivery(notice, person, channel, 0, Notices.NIGHT, Notices.NIGHT);
    }

    private Set<DeliveryKey> add(Notice notice, List<PendingDelivery> deliveries)
            throws IOException {
        return store.add(List.of(new NoticeStore.Addition(notice, deliveries)));
    }

    private void ended(DeliveryState state, String words, DeliveryKey... keys) throws IOException {
        store.ended(
                Arrays.stream(keys)
                        .map(key -> new NoticeStore.Ending(key, state, LATER, words))
                        .toList());
    }

    @Test
    void deliveriesAreKeptOnceEachUntilTheyEnd() throws IOException {
        Notice first = Notices.of("e1", 1, NoticeKind.FIRST, Notices.cold("Nörd \"卵\"\n'; --"));
        Notice other = Notices.first("e2");
        PendingDelivery anna = delivery(first, "anna", "mail");
        PendingDelivery bert = delivery(first, "bert", "mail");
        PendingDelivery hook = delivery(other, "anna", "hook");
        assertEquals(Set.of(anna.key(), bert.key()), add(first, List.of(anna, bert)));
        assertEquals(Set.of(hook.key()), add(other, List.of(hook)));
        assertEquals(Set.of(), add(first, List.of(anna)));
        restart();
        assertEquals(List.of(anna, bert, hook), store.pending());
        store.tried(bert.key(), 3, LATER, "busy");
        ended(DeliveryState.DELIVERED, "taken", anna.key());
        restart();
        assertEquals(
                List.of(new PendingDelivery(first, "bert", "mail", 3, Notices.NIGHT, LATER), hook),
                store.pending());
        assertEquals(Set.of(), add(first, List.of(anna)), "it was delivered already");
        ended(DeliveryState.ACKNOWLEDGED, "seen", bert.key(), hook.key());
        assertEquals(List.of(), store.pending());
        assertTrue(history.check().isSound(), history.check().words().toString());
    }

    @Test
    void whoKnowsOfAnEventIsKeptUntilItIsOver() throws IOException {
        Escalation.Stand stand =
                new Escalation.Stand(
                        Notices.first("e1"),
                        2,
                        List.of("bert"),
                        List.of("anna", "bert"),
                        LATER,
                        false);
        store.keep(
                List.of(
                        new Escalation.Stand(
                                Notices.first("e1"),
                                1,
                                List.of(),
                                List.of(),
                                Notices.NIGHT,
                                false)));
        store.keep(List.of(stand));
        Escalation.Stand other =
                new Escalation.Stand(
                        Notices.first("e2"), 1, List.of(), List.of(), Notices.NIGHT, true);
        store.keep(List.of(other));
        restart();
        assertEquals(List.of(other, stand), store.escalations());
        store.forget("e2", LATER);
        store.forget("e3", LATER);
        assertEquals(List.of(stand), store.escalations());
    }

    @Test
    void anArchiveBringsWhatIsStillToBeDelivered(@TempDir Path other) throws IOException {
        Notice first = Notices.first("e1");
        add(first, List.of(delivery(first, "anna", "mail"), delivery(first, "bert", "mail")));
        ended(DeliveryState.DELIVERED, "taken", new DeliveryKey(first.id(), "anna", "mail"));
        store.keep(
                List.of(
                        new Escalation.Stand(
                                first, 1, List.of("anna"), List.of("anna"), LATER, false)));
        Path archive = other.resolve("all.zip");
        outside(folder).exportAll(archive);
        try (HistoryStore taken = open(other.resolve("taken"))) {
            taken.importAll(archive);
            assertEquals(store.pending(), taken.notices().pending());
            assertEquals(store.escalations(), taken.notices().escalations());
            Notice second = Notices.first("e2");
            PendingDelivery more = delivery(second, "anna", "mail");
            taken.notices().add(List.of(new NoticeStore.Addition(second, List.of(more))));
            assertEquals(2, taken.notices().pending().size());
        }
    }

    StoreOutside outside(Path at) {
        return new StoreFile(at);
    }

    @Test
    void aLinkIsKeptOnceWithItsNoticeUntilItsEventEnds() throws IOException {
        Notice notice = Notices.first("e1");
        AnswerLink link = new AnswerLink("ab12", notice, "anna", Notices.NIGHT, Optional.empty());
        store.keep(link);
        store.keep(new AnswerLink("ab12", notice, "bert", LATER, Optional.empty()));
        assertEquals(1, store.lastRevision("e1"));
        assertEquals(0, store.lastRevision("e2"));
        restart();
        assertEquals(Optional.of(link), store.link("ab12"));
        assertEquals(Optional.empty(), store.link("ab13"));
        store.forget("e1", LATER);
        store.forget("e1", LATER.plusSeconds(5));
        assertEquals(
                Optional.of(
                        new AnswerLink("ab12", notice, "anna", Notices.NIGHT, Optional.of(LATER))),
                store.link("ab12"));
    }

    @Test
    void whatIsOverIsForgottenAfterNinetyDaysAndWhatIsOpenIsNot() throws IOException {
        Notice over = Notices.first("over");
        Notice open = Notices.first("open");
        Notice waiting = Notices.first("waiting");
        for (Notice notice : List.of(over, open, waiting)) {
            add(notice, List.of(delivery(notice, "anna", "mail")));
            if (!notice.equals(waiting)) {
                ended(DeliveryState.DELIVERED, "taken", delivery(notice, "anna", "mail").key());
            }
            store.keep(
                    new AnswerLink(
                            notice.eventId(), notice, "anna", Notices.NIGHT, Optional.empty()));
        }
        store.keep(
                List.of(
                        new Escalation.Stand(
                                open, 1, List.of("anna"), List.of("anna"), Notices.NIGHT, false)));
        store.forget("over", LATER);
        assertEquals(0, forget(23));
        assertTrue(store.link("over").isPresent());
        // "waiting" has no escalation any more: its link ends a day after that was seen.
        assertEquals(2, forget(49));
        assertTrue(store.link("over").isEmpty() && store.link("waiting").isEmpty());
        assertTrue(store.link("open").isPresent());
        assertEquals(1, store.lastRevision("over"));
        assertEquals(0, forget(24 * 89));
        assertEquals(2, forget(24 * 91), "a notice and its delivery");
        assertEquals(0, forget(24 * 91));
        assertEquals(0, store.lastRevision("over"));
        assertEquals(1, store.lastRevision("open"));
        assertEquals(1, store.lastRevision("waiting"));
        assertEquals(1, store.pending().size());
    }

    private long forget(int hoursLater) throws StoreException {
        return history.forgetNotices(Notices.NIGHT.plusSeconds(3600L * hoursLater));
    }
}
