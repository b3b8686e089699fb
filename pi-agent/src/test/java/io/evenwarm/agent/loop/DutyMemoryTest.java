package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.HeldDuty;
import io.evenwarm.agent.port.HeldDutyStore;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Moment;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import org.junit.jupiter.api.Test;

final class DutyMemoryTest {

    private static final CabinetName NORTH = Plans.NORTH;
    private static final BootId BOOT = new BootId(new UUID(3, 4));
    private static final Instant HELD_AT = Instant.parse("2026-03-01T10:00:00Z");
    private static final HeldDuty HELD = new HeldDuty(0.4, 31.5, HELD_AT, true);
    private static final double SET_POINT = 31.5;
    private static final long MINUTE_NANOS = 60_000_000_000L;

    /** What was kept, and what was saved since. */
    private static final class OneDuty implements HeldDutyStore {
        private final Optional<HeldDuty> kept;
        private final List<HeldDuty> saved = new ArrayList<>();

        private OneDuty(HeldDuty kept) {
            this.kept = Optional.of(kept);
        }

        @Override
        public Optional<HeldDuty> load(CabinetName cabinet) {
            return kept;
        }

        @Override
        public void save(CabinetName cabinet, HeldDuty held) {
            saved.add(held);
        }
    }

    private static OptionalDouble taken(
            HeldDuty held, Instant now, boolean isTrusted, double setPoint, double celsius) {
        return new DutyMemory(NORTH, new OneDuty(held))
                .take(new Moment(BOOT, 0, now, isTrusted), setPoint, celsius);
    }

    @Test
    void aDutyOfTheLastHourCountsHoweverColdItGot() {
        OptionalDouble duty = OptionalDouble.of(0.4);
        Instant hourLater = HELD_AT.plus(Duration.ofHours(1));
        assertEquals(duty, taken(HELD, HELD_AT.plusSeconds(120), true, SET_POINT, 31.4));
        assertEquals(duty, taken(HELD, hourLater, true, SET_POINT, 27));
        assertEquals(
                OptionalDouble.empty(),
                taken(HELD, hourLater.plusMillis(1), true, SET_POINT, 31.5));
    }

    @Test
    void oneFromTheFutureDoesNot() {
        assertEquals(
                OptionalDouble.empty(),
                taken(HELD, HELD_AT.minusSeconds(1), true, SET_POINT, 31.5));
    }

    @Test
    void whereNoClockTellsItsAgeTheAirDoes() {
        HeldDuty undated = new HeldDuty(0.4, 31.5, HELD_AT, false);
        Instant later = HELD_AT.plus(Duration.ofDays(900));
        for (HeldDuty held : List.of(HELD, undated)) {
            boolean isTrusted = !held.isWallTrusted();
            assertEquals(OptionalDouble.of(0.4), taken(held, later, isTrusted, SET_POINT, 30.75));
            assertEquals(OptionalDouble.empty(), taken(held, later, isTrusted, SET_POINT, 30.74));
            assertEquals(OptionalDouble.empty(), taken(held, later, isTrusted, SET_POINT, 32.26));
        }
    }

    @Test
    void oneForAnotherSetPointDoesNot() {
        Instant soon = HELD_AT.plusSeconds(120);
        assertEquals(OptionalDouble.of(0.4), taken(HELD, soon, true, 31.0, 31));
        assertEquals(OptionalDouble.empty(), taken(HELD, soon, true, 30.9, 31));
    }

    @Test
    void itCountsOnlyOnce() {
        DutyMemory memory = new DutyMemory(NORTH, new OneDuty(HELD));
        Moment now = new Moment(BOOT, 0, HELD_AT.plusSeconds(120), true);
        assertTrue(memory.take(now, SET_POINT, 31.4).isPresent());
        assertFalse(memory.take(now, SET_POINT, 31.4).isPresent());
    }

    @Test
    void itIsKeptEachTenMinutesWhileTheCabinetIsHeld() throws IOException {
        OneDuty store = new OneDuty(HELD);
        DutyMemory memory = new DutyMemory(NORTH, store);
        MemoryStores stores = new MemoryStores();
        StateNotes notes =
                new StateNotes(NORTH, stores.latches(), stores.setPoints(), Runnable::run);
        for (int minute = 0; minute <= 45; minute++) {
            Moment now =
                    new Moment(
                            BOOT,
                            minute * MINUTE_NANOS,
                            HELD_AT.plus(Duration.ofMinutes(minute)),
                            true);
            boolean isHeld = minute < 15 || minute > 22;
            memory.saveWhenDue(
                    notes,
                    now,
                    SET_POINT,
                    isHeld ? OptionalDouble.of(0.01 * minute) : OptionalDouble.empty());
        }
        assertEquals(
                List.of(0.10, 0.23, 0.33, 0.43), store.saved.stream().map(HeldDuty::duty).toList());
        assertEquals(HELD_AT.plus(Duration.ofMinutes(10)), store.saved.get(0).wall());
    }

    @Test
    void fullHeatThatIsRememberedHeatsNoCabinetThatGuardHoldsBack() throws IOException {
        MemoryStores tripped = new MemoryStores();
        tripped.latches().save(Plans.NORTH, new Latch.Tripped("tested"));
        TestCabinet latched = new TestCabinet(Plans.threeProbes(), tripped, full());
        TestCabinet hot = new TestCabinet(Plans.threeProbes(), new MemoryStores(), full());
        for (int second = 0; second < 120; second++) {
            latched.tickAt(31.5);
            assertFalse(latched.heater.isEnergised(), "latched");
            hot.tickAt(33.6);
            assertFalse(hot.heater.isEnergised(), "at the cut-off");
        }
    }

    @Test
    void itIsWhereControlBegins() {
        TestCabinet anew = new TestCabinet(Plans.threeProbes(), new MemoryStores());
        TestCabinet before = new TestCabinet(Plans.threeProbes(), new MemoryStores(), full());
        anew.run(60, 31.5);
        before.run(60, 31.5);
        assertFalse(anew.heater.isEnergised());
        assertTrue(before.heater.isEnergised());
    }

    private static HeldDutyStore full() {
        return new OneDuty(new HeldDuty(1, 31.5, Instant.EPOCH, true));
    }
}
