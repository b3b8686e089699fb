package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What a pause of the ticks must not be taken for. */
final class PauseTest {

    private static final long SECOND = 1_000_000_000L;

    private final CabinetPlan plan = Plans.threeProbes();
    private final CabinetHealth health = new CabinetHealth(plan);
    private final CabinetObserver observer = new CabinetObserver(plan);
    private long now;

    private double heat = 1 / 3.0;
    private double inAir = 1 / 3.0;

    private void tick(double celsius, int elapsedSeconds) {
        tick(celsius, elapsedSeconds, false);
    }

    private void tick(double celsius, int elapsedSeconds, boolean wasHeaterOn) {
        now += elapsedSeconds * SECOND;
        List<ProbeReading> readings =
                plan.probes().stream()
                        .map(
                                probe ->
                                        new ProbeReading(
                                                probe.name(),
                                                probe.place(),
                                                new Reading.Good(new Temperature(celsius), now)))
                        .toList();
        health.take(
                observer.observe(readings), 31.5, wasHeaterOn, elapsedSeconds, Interference.NONE);
    }

    private void seconds(int seconds, double celsius) {
        for (int i = 0; i < seconds; i++) {
            tick(celsius, 1);
        }
    }

    @Test
    void airThatCooledWhileNothingTickedIsNoOpenDoor() {
        seconds(3600, 31.5);
        tick(30, 600);
        for (int i = 0; i < 600; i++) {
            tick(30, 1);
            assertEquals(0, health.doorOpenSeconds());
        }
    }

    @Test
    void airThatFallsAsFarWithinAMinuteIsOne() {
        seconds(3600, 31.5);
        seconds(60, 30);
        assertTrue(health.doorOpenSeconds() > 0);
    }

    @Test
    void whatAProbeDidMeanwhileIsNoJump() {
        seconds(3600, 31.5);
        tick(28, 600);
        seconds(60, 28);
        assertEquals(0, health.stepKelvin(0), 1e-9);
    }

    /** Seconds of air that answers to heat, which is commanded for so many seconds of each 120. */
    private void heatedSeconds(int seconds, int onSeconds) {
        for (int i = 0; i < seconds; i++) {
            boolean isOn = now / SECOND % 120 < onSeconds;
            heatPasses(1, isOn);
            tick(heatedCelsius(), 1, isOn);
        }
    }

    private void heatPasses(int seconds, boolean isOn) {
        for (int i = 0; i < seconds; i++) {
            heat += ((isOn ? 1 : 0) - heat) / 130;
            inAir += (heat - inAir) / 60;
        }
    }

    private double heatedCelsius() {
        return 31.5 + 4 * (inAir - 1 / 3.0);
    }

    @Test
    void aPauseInTheMiddleOfABlockIsNoOpenedDoor() {
        // Half a block of warm air, and what comes after the pause is all of it colder.
        for (int before = 1; before < 10; before++) {
            seconds(3600 + before, 31.5);
            tick(30, 600);
            for (int i = 0; i < 600; i++) {
                tick(30, 1);
                assertEquals(0, health.doorOpenSeconds(), before + " s into a block");
            }
        }
    }

    @Test
    void heatThatReturnsAfterAPauseIsNoStuckHeater() {
        heatedSeconds(6 * 3600, 40);
        heatPasses(600, false);
        tick(heatedCelsius(), 600, false);
        for (int i = 0; i < 3600; i++) {
            // The cold walls ask for more.
            heatedSeconds(1, 80);
            assertFalse(health.isHeaterStuckOn(), i + " s after the pause");
        }
    }
}
