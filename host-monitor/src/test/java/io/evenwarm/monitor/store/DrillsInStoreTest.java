package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alert.Drill;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.notice.DeliveryState;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.NoticeStore;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.monitor.notice.PendingDelivery;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Who asks for a drill and the monitor that runs it see the same, by the store alone. */
class DrillsInStoreTest {

    private static final Instant ASKED = Notices.NIGHT;
    private static final UUID ID = new UUID(7, 7);
    private static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), new CabinetName("north"));

    private final HistoryStore store;
    private final StoreOutside outside;

    DrillsInStoreTest(@TempDir Path folder) throws StoreException {
        store = open(folder);
        outside = outside(folder);
    }

    HistoryStore open(Path at) throws StoreException {
        return HistoryStore.open(at);
    }

    StoreOutside outside(Path at) {
        return new StoreFile(at);
    }

    @AfterEach
    void close() {
        store.close();
    }

    private static Now at(int second) {
        return new Now(ASKED.plusSeconds(second), second * 1_000_000_000L);
    }

    @Test
    void aDrillIsFoundCancelledAndEnded() throws IOException {
        outside.askDrill(ID, NORTH, ASKED, Duration.ofMinutes(30));
        assertEquals(
                List.of(
                        new Drill(
                                ID,
                                NORTH,
                                ASKED,
                                Duration.ofMinutes(30),
                                false,
                                Optional.empty(),
                                Optional.empty())),
                store.drills().open());
        outside.cancelDrill(ID);
        assertTrue(store.drills().open().get(0).isCancelled());
        store.drills().ended(ID, ASKED.plusSeconds(9), "cancelled", false);
        assertEquals(List.of(), store.drills().open());
        DrillReport report = outside.drill(ID);
        assertEquals("cancelled", report.outcome());
        assertEquals(Optional.of(ASKED.plusSeconds(9)), report.ended());
        assertEquals(List.of(), report.hands());
    }

    @Test
    void itsReportIsOfItsAlarmAndItsNoticesAlone() throws IOException {
        AlarmDesk desk =
                AlarmDesk.begin(
                        AlarmSettings.DEFAULT,
                        new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                        Set.of(NORTH.agent()),
                        at(0));
        AlarmKey key = AlarmKey.of(Subject.of(NORTH), AlarmCodes.DRILL);
        Fact fact = new Fact(key, true, new AlarmWords("drill", "", "Acknowledge."));
        outside.askDrill(ID, NORTH, ASKED, Duration.ofMinutes(30));
        store.drills().taken(ID, ASKED.plusSeconds(1));
        List<AlarmChange> changes = new ArrayList<>(desk.told(fact, at(2)));
        store.drills().occurred(ID, changes.get(0).event().orElseThrow());
        desk.act(new OperatorAction.Acknowledge(key), "anna", at(20))
                .fold(done -> changes.addAll(done.changes()), refused -> false);
        store.alarms().keep(changes, desk.state(at(21)));
        Notice notice = Notices.of("alarm-1", 1, NoticeKind.DRILL, Notices.cold("north"));
        Notice over = Notices.of("alarm-1", 2, NoticeKind.DRILL_OVER, Notices.cold("north"));
        for (Notice each : List.of(notice, over)) {
            PendingDelivery delivery =
                    new PendingDelivery(
                            each, "anna", "post", 0, ASKED.plusSeconds(3), ASKED.plusSeconds(3));
            store.notices().add(List.of(new NoticeStore.Addition(each, List.of(delivery))));
            store.notices()
                    .ended(
                            List.of(
                                    new NoticeStore.Ending(
                                            delivery.key(),
                                            DeliveryState.DELIVERED,
                                            ASKED.plusSeconds(4),
                                            "taken")));
        }
        store.drills().ended(ID, ASKED.plusSeconds(21), "acknowledged", true);
        assertEquals(
                new DrillReport(
                        ASKED,
                        Optional.of(ASKED.plusSeconds(1)),
                        Optional.of(ASKED.plusSeconds(2)),
                        Optional.of(new DrillReport.Acknowledged("anna", ASKED.plusSeconds(20))),
                        Optional.of(ASKED.plusSeconds(21)),
                        "acknowledged",
                        List.of(
                                new DrillReport.Hand(
                                        "anna",
                                        "post",
                                        ASKED.plusSeconds(3),
                                        "delivered",
                                        0,
                                        Optional.of(ASKED.plusSeconds(4)),
                                        "taken"))),
                outside.drill(ID));
        assertEquals(ASKED.plusSeconds(21), store.drills().dueSince(ASKED));
        TimeSpan span = new TimeSpan(ASKED, ASKED.plusSeconds(60));
        assertEquals(2, outside.alarms(Optional.of(NORTH), span).log().size());
        assertEquals(1, outside.alarms(Optional.of(NORTH), span).open().size());
        CabinetKey south = new CabinetKey(NORTH.agent(), new CabinetName("south"));
        assertEquals(List.of(), outside.alarms(Optional.of(south), span).log());
    }

    @Test
    void theFirstLookIsWhenADrillIsExpectedFrom() throws IOException {
        assertEquals(ASKED, store.drills().dueSince(ASKED));
        assertEquals(ASKED, store.drills().dueSince(ASKED.plusSeconds(900)));
    }
}
