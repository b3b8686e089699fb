package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/**
 * A cabinet in few numbers: the air is a level that moves slowly, plus {@code k q}; control heats
 * in proportion to what is missing.
 */
class HeaterHealthTest {

    private static final double SET_POINT = 31.5;
    private static final double K = 5;

    private enum Heater {
        OBEYING,
        HALF,
        DEAD,
        WELDED
    }

    private final HeatResponse response = new HeatResponse();
    private final HeaterHealth health = new HeaterHealth();
    private final Random random = new Random(11);
    private final Lag delayed = new Lag(HeatResponse.PROBE_LAG_SECONDS);
    private final Lag heat = new Lag(250);
    private final Lag level = new Lag(6000);
    private double air = SET_POINT;
    private double owed;
    private boolean isCut;
    private boolean isTold = true;

    @BeforeEach
    void aDayOfSoundRunning() {
        level.set(30);
        run(Heater.OBEYING, 24 * 360);
        assertTrue(response.isLearned());
        assertEquals(HeaterHealth.Verdict.OBEYS, health.verdict());
    }

    /** Returns after how many blocks the verdict was another one; -1 when it stayed. */
    private int run(Heater heater, int blocks) {
        HeaterHealth.Verdict before = health.verdict();
        int changedAfter = -1;
        for (int i = 0; i < blocks; i++) {
            owed += Math.max(0, Math.min(1, 0.3 + 0.6 * (SET_POINT - air)));
            double commanded = i % 13 < Math.min(13, owed) ? 1 : 0;
            commanded = isCut ? 0 : commanded;
            owed = Math.max(0, Math.min(13, owed - commanded));
            double given =
                    isCut
                            ? 0
                            : switch (heater) {
                                case OBEYING -> commanded;
                                case HALF -> 0.5 * commanded;
                                case DEAD -> 0;
                                case WELDED -> 1;
                            };
            double share = heat.step(delayed.step(given));
            // What the surfaces take and lose: warmer with much heat, colder without.
            level.step(28.5 + 5 * share);
            air = level.value() + K * share + 0.01 * random.nextGaussian();
            double read = Math.rint(air * 16) / 16;
            response.take(
                    commanded, read, health.isUnsuspected() && heater == Heater.OBEYING, true);
            health.take(commanded, read, SET_POINT, response, false, isCut, isTold);
            if (changedAfter < 0 && health.verdict() != before) {
                changedAfter = i + 1;
            }
        }
        return changedAfter;
    }

    @Test
    void aWeldedRelayIsFoundWithinMinutes() {
        int blocks = run(Heater.WELDED, 60);
        assertEquals(HeaterHealth.Verdict.ALWAYS_ON, health.verdict());
        assertTrue(blocks > 0 && blocks <= 30, blocks + " blocks of 10 s");
    }

    @Test
    void aHeaterWithoutHeatIsFoundWithinAQuarterOfAnHour() {
        int blocks = run(Heater.DEAD, 180);
        assertEquals(HeaterHealth.Verdict.GIVES_NOTHING, health.verdict());
        assertTrue(blocks > 0 && blocks <= 90, blocks + " blocks of 10 s");
    }

    @Test
    void halfTheHeatIsTakenForNoneForMinutesAtMost() {
        isTold = false;
        int none = 0;
        for (int i = 0; i < 6 * 360; i++) {
            run(Heater.HALF, 1);
            none = health.verdict() == HeaterHealth.Verdict.OBEYS ? 0 : none + 1;
            assertTrue(none < CabinetHealth.DEAD_BLOCKS, none + " blocks of 10 s");
        }
    }

    @Test
    void aSoundHeaterIsLeftAloneForAWeek() {
        assertEquals(-1, run(Heater.OBEYING, 7 * 24 * 360));
    }

    @Test
    void whileTheCutOffRelayIsOpenAFallingAirSpeaksAgainstNoHeater() {
        isCut = true;
        assertEquals(-1, run(Heater.OBEYING, 180));
    }

    @Test
    void aHeaterThatObeysAgainIsBelievedAgainAndNotAtOnce() {
        run(Heater.DEAD, 180);
        assertEquals(HeaterHealth.Verdict.GIVES_NOTHING, health.verdict());
        int blocks = run(Heater.OBEYING, 24 * 360);
        assertEquals(HeaterHealth.Verdict.OBEYS, health.verdict());
        assertTrue(blocks >= 30, blocks + " blocks of 10 s");
    }

    @Test
    void heatThatComesBackAfterHoursAtFullCommandIsSeenWithinHalfAnHour() {
        run(Heater.DEAD, 6 * 360);
        assertEquals(HeaterHealth.Verdict.GIVES_NOTHING, health.verdict());
        int blocks = run(Heater.OBEYING, 24 * 360);
        assertEquals(HeaterHealth.Verdict.OBEYS, health.verdict());
        assertTrue(blocks > 0 && blocks <= 180, blocks + " blocks of 10 s");
    }

    @Test
    void aHeaterShownToBeStuckOnIsNotTakenForDeadWhileTheCutOffRelayKeepsItOff() {
        health.believeAlwaysOn(response, air);
        isCut = true;
        assertEquals(-1, run(Heater.WELDED, 180));
        isCut = false;
        run(Heater.WELDED, 60);
        assertEquals(HeaterHealth.Verdict.ALWAYS_ON, health.verdict());
    }
}
