package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.ProbePlace;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

final class PositionTest {

    private static List<Position> of(String... labels) {
        return Position.of(Stream.of(labels).map(ProbePlace::of).toList());
    }

    private static Optional<Position.Spot> spot(double up, double across, double back) {
        return Optional.of(new Position.Spot(up, across, back));
    }

    @Test
    void theKeepersWordsSayWhereAPointIs() {
        List<Position> positions = of("top", "middle", "bottom", "Bottom right back", "by the fan");
        assertEquals(spot(1, 0.5, 0.5), positions.get(0).spot());
        assertEquals(spot(0.5, 0.5, 0.5), positions.get(1).spot());
        assertEquals(spot(0, 0.5, 0.5), positions.get(2).spot());
        assertEquals(spot(0, 1, 1), positions.get(3).spot());
        assertEquals(Optional.empty(), positions.get(4).spot());
    }

    @Test
    void shelvesAreCountedFromTheTop() {
        List<Position> positions = of("shelf 1 left", "shelf 4", "Shelf 2 front");
        assertEquals(spot(0.875, 0, 0.5), positions.get(0).spot());
        assertEquals(spot(0.125, 0.5, 0.5), positions.get(1).spot());
        assertEquals(spot(0.625, 0.5, 0), positions.get(2).spot());
        assertTrue(positions.get(0).isTop());
        assertTrue(positions.get(1).isBottom());
        assertFalse(positions.get(2).isTop());
    }

    @Test
    void onlyTheMiddleIsTheCentre() {
        List<Position> positions = of("middle", "middle left", "top", "shelf 2", "shelf 3");
        assertTrue(positions.get(0).isCentre());
        assertFalse(positions.get(1).isCentre());
        assertFalse(positions.get(2).isCentre());
        assertTrue(positions.get(3).isCentre());
    }
}
