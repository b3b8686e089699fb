package io.evenwarm.monitor.alarm;

import static io.evenwarm.monitor.alarm.Scene.ROOM;
import static io.evenwarm.monitor.alarm.Scene.SHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.LifeCycle.Transition;
import io.evenwarm.monitor.alarm.NewtonTimeLeft.Assumptions;
import io.evenwarm.monitor.alarm.Scene.Air;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.function.BiFunction;
import org.junit.jupiter.api.Test;

/**
 * Whatever happens, in whatever order, the log of changes tells the whole truth, and a desk that is
 * taken apart and put together again, on another monotonic clock, goes on as if nothing had
 * happened.
 */
final class AlarmDeskPropertyTest {

    private static final AlarmSettings SETTINGS = AlarmSettings.DEFAULT;
    private static final TimeLeft TIME_LEFT = new NewtonTimeLeft(Assumptions.DEFAULT);
    private static final Set<AgentName> AGENTS = Set.of(ROOM, SHED);
    private static final Set<Transition> TABLE = LifeCycle.transitions();
    private static final int OPERATIONS = 300;
    private static final int SEEDS = 12;

    private static final List<FindingCode> CODES =
            List.of(
                    FindingCode.MAINS_RETURNED,
                    FindingCode.CUT_OFF_TRIPPED,
                    FindingCode.HEATER_STUCK_ON,
                    FindingCode.HEATER_DEAD,
                    FindingCode.DOOR_OPEN,
                    FindingCode.TOO_COLD,
                    FindingCode.TOO_WARM,
                    FindingCode.ROOM_TOO_COLD,
                    FindingCode.FAN_STOPPED,
                    FindingCode.CLOCK_UNTRUSTED,
                    FindingCode.RELAY_CHATTER,
                    new FindingCode("water-on-the-floor"));

    private Scene scene = new Scene(ROOM, SHED);
    private Random random = new Random(0);
    private long twinShiftNanos;
    private AlarmDesk twin = scene.desk;
    private final Map<AlarmKey, Replayed> replayed = new HashMap<>();
    private final Map<Trigger, Integer> seen = new EnumMap<>(Trigger.class);
    private long lastNumber;

    /** What the changes so far tell of one alarm. */
    private record Replayed(
            AlarmState state,
            Optional<EventId> event,
            Optional<Priority> acknowledgedAt,
            AlarmChange last) {}

    private Now twinNow() {
        return new Now(scene.now().wall(), scene.now().nanos() + twinShiftNanos);
    }

    /** Does the same to both desks; both must say the same. */
    private void both(BiFunction<AlarmDesk, Now, List<AlarmChange>> doing) {
        List<AlarmChange> changes = doing.apply(scene.desk, scene.now());
        List<AlarmChange> twins = doing.apply(twin, twinNow());
        assertEquals(changes, twins.stream().map(this::onOurClock).toList());
        changes.forEach(this::replay);
    }

    private AlarmChange onOurClock(AlarmChange change) {
        return new AlarmChange(
                change.number(),
                change.key(),
                change.event(),
                change.from(),
                change.to(),
                change.trigger(),
                new Now(change.at().wall(), change.at().nanos() - twinShiftNanos),
                change.who(),
                change.why(),
                change.priority(),
                change.timeLeft(),
                change.beganNanos() - twinShiftNanos,
                change.began(),
                change.words());
    }

    private void replay(AlarmChange change) {
        seen.merge(change.trigger(), 1, Integer::sum);
        assertEquals(lastNumber + 1, change.number());
        lastNumber = change.number();
        Replayed before =
                replayed.getOrDefault(
                        change.key(),
                        new Replayed(
                                AlarmState.NORMAL, Optional.empty(), Optional.empty(), change));
        assertEquals(before.state, change.from(), () -> "gap in the log before " + change);
        if (change.trigger() == Trigger.PRIORITY_RAISED) {
            assertEquals(AlarmState.UNACKNOWLEDGED, change.from());
            assertEquals(AlarmState.UNACKNOWLEDGED, change.to());
        } else {
            assertTrue(
                    TABLE.contains(new Transition(change.from(), change.trigger(), change.to())),
                    () -> "not in the table: " + change);
        }
        if (change.from() != AlarmState.NORMAL && before.event.isPresent()) {
            assertEquals(before.event, change.event(), () -> "another event: " + change);
        }
        if (change.to() == AlarmState.UNACKNOWLEDGED) {
            assertTrue(change.event().isPresent(), () -> "belongs to no event: " + change);
            mayBeToldAgain(before, change);
        }
        replayed.put(
                change.key(),
                new Replayed(change.to(), change.event(), acknowledged(before, change), change));
    }

    /** What is acknowledged is not told again, but for a reason that the log names. */
    private static void mayBeToldAgain(Replayed before, AlarmChange change) {
        if (before.acknowledgedAt.isEmpty()) {
            return;
        }
        boolean isReAlarm = change.trigger() == Trigger.RE_ALARMED;
        boolean isPersons =
                change.trigger() == Trigger.SHELF_ENDED
                        || change.trigger() == Trigger.UNSHELVED
                        || change.trigger() == Trigger.RETURNED_TO_SERVICE;
        boolean isMorePressing =
                change.trigger() == Trigger.SUPPRESSION_ENDED
                        && change.priority().compareTo(before.acknowledgedAt.get()) > 0;
        boolean isNewOccurrence = change.trigger() == Trigger.OCCURRED;
        assertTrue(
                isReAlarm || isPersons || isMorePressing || isNewOccurrence,
                () -> "acknowledged, and told again: " + change);
    }

    private static Optional<Priority> acknowledged(Replayed before, AlarmChange change) {
        return switch (change.to()) {
            case ACKNOWLEDGED, LATCHED_ACKNOWLEDGED -> Optional.of(change.priority());
            case NORMAL, UNACKNOWLEDGED -> Optional.empty();
            default -> before.acknowledgedAt;
        };
    }

    private void compareWithTheDesk() {
        Map<AlarmKey, AlarmStatus> now = new HashMap<>();
        scene.desk.alarms().forEach(alarm -> now.put(alarm.key(), alarm));
        replayed.forEach(
                (key, last) ->
                        assertEquals(
                                last.state,
                                now.containsKey(key) ? now.get(key).state() : AlarmState.NORMAL,
                                key::toString));
        now.forEach(
                (key, alarm) -> {
                    if (!replayed.containsKey(key)) {
                        assertEquals(AlarmState.NORMAL, alarm.state(), key::toString);
                    }
                    if (alarm.state() == AlarmState.SUPPRESSED_BY_DESIGN) {
                        assertTrue(alarm.priority() != Priority.HIGH, key::toString);
                    }
                    assertEquals(
                            alarm.state() == AlarmState.SHELVED,
                            alarm.shelf().isPresent(),
                            key::toString);
                });
    }

    private void pass(int steps) {
        long stepSeconds = random.nextBoolean() ? 1 : 20;
        for (int step = 0; step < steps; step++) {
            scene.advance(stepSeconds);
            for (Map.Entry<CabinetKey, Air> one : scene.cabinets().entrySet()) {
                if (scene.isHeard(one.getKey())) {
                    CabinetSnapshot snapshot =
                            scene.snapshot(one.getKey().cabinet(), one.getValue());
                    both((desk, now) -> desk.received(one.getKey().agent(), snapshot, now));
                }
            }
            both((desk, now) -> desk.tick(now));
            compareWithTheDesk();
        }
    }

    private <T> T any(List<T> of) {
        return of.get(random.nextInt(of.size()));
    }

    private Air anyAir() {
        return scene.at(any(List.copyOf(scene.cabinets().keySet())));
    }

    private void somethingHappens() {
        switch (random.nextInt(14)) {
            case 0, 1, 2 -> anyAir().findings.put(any(CODES), Optional.empty());
            case 3, 4 -> anyAir().findings.remove(any(CODES));
            case 5 -> anyAir().findings.clear();
            case 6 -> anyAir().all(18 + 17 * random.nextDouble());
            case 7 -> anyAir().doorOpen = Optional.of(random.nextBoolean());
            case 8 -> anyAir().isWork = random.nextBoolean();
            case 9 -> {
                AgentName agent = any(List.of(ROOM, SHED));
                if (random.nextBoolean()) {
                    scene.unplug(agent);
                } else {
                    scene.plug(agent);
                }
            }
            case 10 -> scene.setWall(Instant.ofEpochSecond(random.nextInt(2_000_000_000)));
            case 11 -> {
                Fact fact =
                        new Fact(
                                AlarmKey.of(Subject.MONITOR, AlarmCodes.STORE_FAILING),
                                random.nextBoolean(),
                                new AlarmWords("disk", "tries again", "Make room."));
                both((desk, now) -> desk.told(fact, now));
            }
            default -> somebodyActs();
        }
    }

    private void somebodyActs() {
        List<AlarmStatus> alarms = scene.desk.alarms();
        if (alarms.isEmpty()) {
            return;
        }
        AlarmStatus alarm = any(alarms);
        AlarmKey key = alarm.key();
        EventId event = alarm.event().orElse(new EventId(1));
        OperatorAction action =
                switch (random.nextInt(10)) {
                    case 0, 1 -> new OperatorAction.Acknowledge(key);
                    case 2, 3 -> new OperatorAction.AcknowledgeEvent(event);
                    case 4 -> new OperatorAction.Reset(key);
                    case 5 -> new OperatorAction.ResetEvent(event);
                    case 6 ->
                            new OperatorAction.Shelve(
                                    key, Duration.ofSeconds(1 + random.nextInt(3000)), "a reason");
                    case 7 -> new OperatorAction.Unshelve(key);
                    case 8 -> new OperatorAction.TakeOutOfService(key, "a reason");
                    default -> new OperatorAction.ReturnToService(key);
                };
        both(
                (desk, now) ->
                        desk.act(action, "Kim", now)
                                .fold(ActionOutcome.Done::changes, refused -> List.of()));
    }

    private void takeTheTwinApart() {
        DeskState kept = twin.state(twinNow());
        twinShiftNanos = random.nextLong() >> 4;
        twin = AlarmDesk.restore(SETTINGS, TIME_LEFT, AGENTS, kept, twinNow());
    }

    @Test
    void theLogTellsTheWholeTruthAndSurvivesRestarts() {
        Set<Trigger> all = EnumSet.noneOf(Trigger.class);
        for (long seed = 1; seed <= SEEDS; seed++) {
            try {
                all.addAll(new AlarmDeskPropertyTest().run(seed));
            } catch (AssertionError e) {
                throw new AssertionError("with seed " + seed + ": " + e.getMessage(), e);
            }
        }
        assertEquals(EnumSet.allOf(Trigger.class), all);
    }

    private Set<Trigger> run(long seed) {
        random = new Random(seed);
        scene = new Scene(SETTINGS, TIME_LEFT, ROOM, SHED);
        twin = AlarmDesk.begin(SETTINGS, TIME_LEFT, AGENTS, twinNow());
        for (String name : List.of("north", "south", "west")) {
            scene.at(Scene.key(ROOM, name)).ambient = 20;
            scene.at(Scene.key(SHED, name)).ambient = 25;
        }
        for (int operation = 0; operation < OPERATIONS; operation++) {
            somethingHappens();
            pass(1 + random.nextInt(20));
            if (random.nextInt(5) == 0) {
                takeTheTwinApart();
            }
        }
        assertTrue(lastNumber > 100, "only " + lastNumber + " changes");
        return seen.keySet();
    }
}
