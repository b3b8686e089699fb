package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.agent.testing.FakeProbe;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.function.Function;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Random sequences of samples, commands, broken lines, full disks and late ticks. After each tick
 * the rules that must hold whatever comes are checked. A failure names seed and tick; run that seed
 * alone with {@link #replay}.
 */
final class CabinetLoopPropertyTest {

    private static final int SEEDS = 100;
    private static final int TICKS = 1500;
    private static final double CUT_OFF_CELSIUS = 33.5;

    private static final Logger QUIET = Logger.getLogger("io.evenwarm.agent.loop");

    /** Thousands of trips and lost probes are of no interest here. */
    @BeforeAll
    static void hush() {
        QUIET.setLevel(Level.OFF);
    }

    @AfterAll
    static void speakAgain() {
        QUIET.setLevel(null);
    }

    @Test
    void whateverComesTheRulesHold() {
        long heated = 0;
        long tripped = 0;
        long blind = 0;
        for (int seed = 1; seed <= SEEDS; seed++) {
            Run run = new Run(seed);
            run.all();
            heated += run.heated;
            tripped += run.tripped;
            blind += run.blind;
        }
        // A run in which nothing happens would hold every rule.
        assertTrue(heated > SEEDS * 50L, "heated in " + heated + " ticks only");
        assertTrue(tripped > SEEDS * 50L, "tripped in " + tripped + " ticks only");
        assertTrue(blind > SEEDS * 10L, "blind in " + blind + " ticks only");
    }

    @ParameterizedTest
    @ValueSource(ints = {1})
    void replay(int seed) {
        Run run = new Run(seed);
        run.all();
        assertTrue(run.heated > 0);
    }

    private static CabinetPlan plan(Random random) {
        return switch (random.nextInt(3)) {
            case 0 -> Plans.cabinet(Plans.probe("only", ProbePlace.MIDDLE));
            case 1 -> Plans.threeProbes();
            default ->
                    Plans.cabinet(
                            Plans.probe("top", ProbePlace.TOP),
                            Plans.probe("bottom", ProbePlace.BOTTOM),
                            Plans.probe("tub", ProbePlace.TUB),
                            Plans.probe("room", ProbePlace.AMBIENT),
                            Plans.guardProbe("guard", ProbePlace.TOP));
        };
    }

    /** One seed's sequence. */
    private static final class Run {
        private final int seed;
        private final Random random;
        private final CabinetPlan plan;
        private final MemoryStores stores = new MemoryStores();
        private final List<Runnable> disk = new ArrayList<>();
        private final List<CommandOutcome> resets = new ArrayList<>();
        private TestCabinet cabinet;
        private double air = 30;
        private double drift;
        private boolean wasTripped;
        private int resetsDone;
        private int pressTicks;
        private boolean isPressed;
        private boolean isButtonsResetUnderWay;
        long heated;
        long tripped;
        long blind;

        Run(int seed) {
            this.seed = seed;
            this.random = new Random(seed);
            this.plan = plan(random);
            this.cabinet = start();
        }

        private TestCabinet start() {
            return new TestCabinet(plan, stores, disk::add, List.of());
        }

        void all() {
            for (int tick = 1; tick <= TICKS; tick++) {
                disturb();
                long step = random.nextInt(50) == 0 ? random.nextLong(20) + 1 : 1;
                cabinet.nowNanos += step * TestCabinet.SECOND;
                sample();
                int at = tick;
                check(cabinet.tickOnly(), rule -> "seed " + seed + ", tick " + at + ": " + rule);
            }
        }

        private void disturb() {
            switch (random.nextInt(60)) {
                case 0 -> drift = random.nextGaussian() * 0.05;
                case 1 -> stores.diskFull(random.nextBoolean());
                case 2 -> cabinet.heater.fail(random.nextBoolean());
                case 3 -> cabinet.heater.fail(false);
                case 4, 5, 6 ->
                        cabinet.loop.submit(new Command.ResetCutOff(plan.name()), resets::add);
                case 7 ->
                        cabinet.loop.submit(
                                new Command.SetSetPoint(
                                        plan.name(), new Temperature(5 + random.nextDouble() * 35)),
                                outcome -> {});
                case 8 -> cabinet.loop.submit(new Command.Silence(plan.name()), outcome -> {});
                case 9 -> restart();
                case 11, 12, 13 -> pressTicks = 5;
                case 10 -> air = 28 + random.nextDouble() * 6;
                default -> {}
            }
            isPressed = pressTicks > 0;
            pressTicks -= isPressed ? 1 : 0;
            cabinet.isResetPressed = Optional.of(isPressed);
            if (random.nextInt(4) > 0) {
                List<Runnable> due = List.copyOf(disk);
                disk.clear();
                due.forEach(Runnable::run);
            }
        }

        /** A clean restart: what waits for the disk is written first. */
        private void restart() {
            stores.diskFull(false);
            disk.forEach(Runnable::run);
            disk.clear();
            cabinet.loop.close();
            assertFalse(cabinet.heater.isEnergised() && cabinet.cutOffRelay.isEnergised());
            long now = cabinet.nowNanos;
            cabinet = start();
            cabinet.nowNanos = now;
            // What was not saved when the disk was full is lost with the process: the store tells.
            wasTripped = stores.latches().load(plan.name()).trippedReason().isPresent();
        }

        private void sample() {
            air += drift;
            if (air > 35 || air < 15) {
                drift = -drift;
            }
            int mood = random.nextInt(200);
            for (FakeProbe probe : cabinet.probes) {
                long at = cabinet.nowNanos - random.nextLong(TestCabinet.SECOND);
                if (mood < 20) {
                    continue;
                }
                switch (random.nextInt(40)) {
                    case 0 -> probe.celsius(Double.NaN, at);
                    case 1 -> probe.celsius(85, at);
                    case 2 -> probe.fails(Reading.Doubt.CHECKSUM, at);
                    case 3 -> probe.celsius(Double.longBitsToDouble(random.nextLong()), at);
                    case 4 -> probe.percent(50, at);
                    case 5 -> probe.gives(new Sample.NotYet(at));
                    case 6 -> {}
                    default -> probe.celsius(air + random.nextGaussian() * 0.05, at);
                }
            }
            if (mood == 20) {
                cabinet.nowNanos += 12 * TestCabinet.SECOND;
            }
        }

        private void check(CabinetSnapshot snapshot, Function<String, String> where) {
            boolean isHeating = cabinet.heater.isEnergised() && cabinet.cutOffRelay.isEnergised();
            boolean isTripped = snapshot.guard() == GuardState.TRIPPED;
            boolean isBlind = snapshot.processValue().isEmpty();
            heated += isHeating ? 1 : 0;
            tripped += isTripped ? 1 : 0;
            blind += isBlind ? 1 : 0;

            assertTrue(
                    snapshot.heaterOn() || !cabinet.heater.isEnergised(),
                    () -> where.apply("the heater is on and nobody says so"));
            if (isHeating || (snapshot.heaterOn() && !cabinet.heater.isFailing())) {
                assertEquals(
                        GuardState.ALLOWING,
                        snapshot.guard(),
                        () -> where.apply("heat without leave"));
                assertFalse(isBlind, () -> where.apply("heat while blind"));
            }
            boolean isClosed = snapshot.cutOffRelayClosed().orElseThrow();
            assertEquals(
                    cabinet.cutOffRelay.isEnergised(),
                    isClosed,
                    () -> where.apply("cut-off relay"));
            assertFalse(
                    isClosed && isTripped,
                    () -> where.apply("cut-off relay closed though tripped"));
            assertFalse(
                    isClosed && isBlind, () -> where.apply("cut-off relay closed though blind"));

            for (ProbeReading probe : snapshot.probes()) {
                checkReading(snapshot, probe, isHeating, where);
            }
            double cutOff = snapshot.limits().cutOff().celsius();
            // Lowered where one air probe of several is left, and never too near the set point.
            assertTrue(cutOff <= CUT_OFF_CELSIUS, () -> where.apply("cut-off"));
            assertTrue(
                    cutOff <= snapshot.limits().ceiling().celsius(), () -> where.apply("ceiling"));
            assertTrue(
                    snapshot.limits().tooWarm().celsius() <= cutOff, () -> where.apply("cut-off"));
            assertTrue(
                    snapshot.setPoint().celsius() <= cutOff - 1 + 1e-9,
                    () -> where.apply("set point"));
            assertTrue(snapshot.setPoint().celsius() >= 10, () -> where.apply("set point"));
            assertTrue(
                    snapshot.duty().fraction() >= 0 && snapshot.duty().fraction() <= 1,
                    () -> where.apply("duty"));
            checkLatch(isTripped, where);
        }

        private void checkReading(
                CabinetSnapshot snapshot,
                ProbeReading probe,
                boolean isHeating,
                Function<String, String> where) {
            if (!(probe.reading() instanceof Reading.Good good)) {
                return;
            }
            double celsius = ((Temperature) good.value()).celsius();
            assertTrue(celsius >= -35 && celsius <= 75, () -> where.apply("impossible: " + probe));
            boolean isInside = probe.place().kind() != ProbePlace.Kind.AMBIENT;
            assertFalse(
                    isHeating && isInside && celsius >= snapshot.limits().cutOff().celsius(),
                    () -> where.apply("heated at the cut-off: " + probe));
        }

        /** A trip ends by the button, or a reset that was answered as done, and in no other way. */
        private void checkLatch(boolean isTripped, Function<String, String> where) {
            int done = 0;
            for (CommandOutcome outcome : resets) {
                done += outcome instanceof CommandOutcome.Done ? 1 : 0;
            }
            isButtonsResetUnderWay |= isPressed;
            if (wasTripped && !isTripped && !isButtonsResetUnderWay) {
                assertEquals(resetsDone + 1, done, () -> where.apply("a trip went away by itself"));
            }
            // The disk may be slow: what a press began is over when nothing waits for the disk.
            isButtonsResetUnderWay &= isPressed || !disk.isEmpty() || isTripped;
            resetsDone = done;
            wasTripped = isTripped;
        }
    }
}
