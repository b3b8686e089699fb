package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
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

    private void tick(double celsius, int elapsedSeconds) {
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
        health.take(observer.observe(readings), 31.5, false, elapsedSeconds, Interference.NONE);
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
}
