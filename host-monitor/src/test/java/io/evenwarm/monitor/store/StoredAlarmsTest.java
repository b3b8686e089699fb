package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alert.AlarmStore;
import io.evenwarm.monitor.alert.LoggedChange;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The alarm log only grows, and the desk stands after a restart where it stood. */
class StoredAlarmsTest {

    private static final Instant NIGHT = Instant.parse("2026-03-01T03:00:00Z");
    private static final AgentName AGENT = new AgentName("egg room");

    private final Path folder;
    private HistoryStore history;
    private AlarmStore store;

    StoredAlarmsTest(@TempDir Path folder) throws StoreException {
        this.folder = folder;
        history = open(folder);
        store = history.alarms();
    }

    HistoryStore open(Path at) throws StoreException {
        return HistoryStore.open(at);
    }

    @AfterEach
    void close() {
        history.close();
    }

    private static Now at(long second) {
        return new Now(NIGHT.plusSeconds(second), second * 1_000_000_000L);
    }

    private static AlarmDesk desk() {
        return AlarmDesk.begin(
                AlarmSettings.DEFAULT,
                new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                Set.of(AGENT),
                at(0));
    }

    private static Fact failing(boolean holds) {
        return new Fact(
                AlarmKey.of(Subject.MONITOR, AlarmCodes.NOTICES_FAILING),
                holds,
                new AlarmWords("3 wait; \"mail\"\n\u00e4 refuses", "tries again", "Look."));
    }

    private static List<AlarmChange> courseOf(AlarmDesk desk) {
        List<AlarmChange> changes = new ArrayList<>();
        for (long second = 1; second < 400; second++) {
            changes.addAll(desk.told(failing(second < 200), at(second)));
            changes.addAll(desk.tick(at(second)));
        }
        return changes;
    }

    @Test
    void theLogHasEveryChangeOnceNewestFirst() throws IOException {
        AlarmDesk desk = desk();
        List<AlarmChange> changes = courseOf(desk);
        assertTrue(changes.size() >= 3, changes.toString());
        store.keep(changes.subList(0, 2), desk.state(at(400)));
        // Given again after a failure whose outcome was not known.
        store.keep(changes, desk.state(at(400)));
        history.close();
        history = open(folder);
        store = history.alarms();
        List<LoggedChange> newest = store.newest(1000);
        assertEquals(changes.size(), newest.size());
        for (int i = 0; i < changes.size(); i++) {
            AlarmChange change = changes.get(i);
            assertEquals(
                    new LoggedChange(
                            change.number(),
                            change.at().wall(),
                            change.key().subject().toString(),
                            change.key().code().value(),
                            Optional.empty(),
                            change.from().words(),
                            change.to().words(),
                            change.who(),
                            change.why(),
                            change.priority().words(),
                            change.words().evidence()),
                    newest.get(changes.size() - 1 - i));
        }
        assertEquals(1, store.newest(1).size());
        assertTrue(history.check().isSound(), history.check().words().toString());
    }

    @Test
    void theDesksStateIsTheOneThatWasKeptLast() throws IOException {
        assertEquals(Optional.empty(), store.state());
        AlarmDesk desk = desk();
        store.keep(List.of(), desk.state(at(1)));
        courseOf(desk);
        store.keep(List.of(), desk.state(at(400)));
        history.close();
        history = open(folder);
        assertEquals(Optional.of(desk.state(at(400))), history.alarms().state());
    }
}
