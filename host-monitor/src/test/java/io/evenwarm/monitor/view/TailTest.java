package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class TailTest {

    private final Tail tail = new Tail();

    @Test
    void aSnapshotThatIsSeenTwiceCountsOnce() {
        tail.add(Samples.calm(1));
        tail.add(Samples.calm(1));
        tail.add(Samples.calm(2));
        assertEquals(2, tail.size());
        assertEquals(31.6, tail.probes().get(0).curve().value(1));
        assertEquals(1, tail.heater().value(1));
    }

    @Test
    void aFullTailDropsItsOldestAndKeepsItsNewest() {
        for (int tick = 1; tick <= Tail.POINTS_MAX + 1; tick++) {
            tail.add(Samples.calm(tick));
        }
        Curve curve = tail.probes().get(0).curve();
        assertEquals(Tail.POINTS_MAX * 3 / 4 + 1, tail.size());
        assertEquals(
                Samples.NOON.plusSeconds(Tail.POINTS_MAX + 1).toEpochMilli(),
                curve.epochMillis(curve.size() - 1));
        for (int i = 1; i < curve.size(); i++) {
            assertEquals(1000, curve.epochMillis(i) - curve.epochMillis(i - 1));
        }
    }

    @Test
    void aClockThatWasSetBackBeginsTheTailAnew() {
        tail.add(Samples.calm(100));
        tail.add(Samples.calm(101));
        tail.add(Samples.calm(50));
        assertEquals(1, tail.size());
        assertEquals(1, tail.probes().get(0).curve().size());
    }

    @Test
    void badAndDoubtfulReadingsAreGapsAndALateProbeBeginsWithOne() {
        tail.add(Samples.calm(1));
        tail.add(
                Samples.snapshot(
                        2,
                        List.of(
                                new ProbeReading(
                                        new ProbeName("top"),
                                        ProbePlace.TOP,
                                        new Reading.Uncertain(
                                                Temperature.ofCelsius(50),
                                                Reading.Doubt.TOO_FAST,
                                                0)),
                                new ProbeReading(
                                        new ProbeName("damp"),
                                        ProbePlace.of("damp"),
                                        new Reading.Good(RelativeHumidity.ofPercent(85), 0))),
                        Optional.of(31.5),
                        GuardState.ALLOWING,
                        List.of()));
        tail.add(Samples.calm(3));
        Curve top = tail.probes().get(0).curve();
        Curve damp = tail.probes().get(1).curve();
        assertTrue(Double.isNaN(top.value(1)));
        assertEquals(31.6, top.value(2));
        assertTrue(Double.isNaN(damp.value(0)));
        assertEquals(85, damp.value(1));
        assertTrue(Double.isNaN(damp.value(2)));
    }
}
