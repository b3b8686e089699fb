package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.ProbePlace;
import java.util.List;
import org.junit.jupiter.api.Test;

final class SurveyLayoutTest {

    /** Computed from the margins of IEC 60068-3-5: 240 l, 60, 50 and 80 mm; 27 l, 50 mm each. */
    @Test
    void nineProbesStandAtTheCornersOfTheWorkingSpaceAndAtItsCentre() {
        SurveyLayout layout = SurveyLayout.of(600, 500, 800, false);
        assertEquals(240, layout.litres(), 1e-9);
        assertTrue(layout.isAboveNinePoints());
        assertEquals(9, layout.points().size());
        assertEquals(new SurveyLayout.Place("top left front", 60, 50, 720), layout.points().get(0));
        assertEquals(new SurveyLayout.Place("middle", 300, 250, 400), layout.points().get(4));
        assertEquals(
                new SurveyLayout.Place("bottom right back", 540, 450, 80), layout.points().get(8));
        SurveyLayout small = SurveyLayout.of(300, 300, 300, false);
        assertFalse(small.isAboveNinePoints());
        assertEquals(new SurveyLayout.Place("top left front", 50, 50, 250), small.points().get(0));
    }

    @Test
    void largerCabinetsKeepTheirMargins() {
        assertEquals(100, SurveyLayout.marginMillimetres(900, 1500));
        assertEquals(120, SurveyLayout.marginMillimetres(1200, 1500));
        assertEquals(150, SurveyLayout.marginMillimetres(1200, 2500));
    }

    @Test
    void theWordsOfALayoutAreUnderstoodAsTheirPlaces() {
        List<SurveyLayout.Place> places = SurveyLayout.of(1000, 1000, 1000, true).points();
        assertEquals(27, places.stream().map(SurveyLayout.Place::label).distinct().count());
        List<Position> positions =
                Position.of(places.stream().map(place -> ProbePlace.of(place.label())).toList());
        for (int i = 0; i < 27; i++) {
            SurveyLayout.Place place = places.get(i);
            Position.Spot spot = positions.get(i).spot().orElseThrow();
            assertEquals(place.fromLeftMillimetres(), 100 + 800 * spot.across(), place.label());
            assertEquals(place.fromDoorMillimetres(), 100 + 800 * spot.back(), place.label());
            assertEquals(place.fromFloorMillimetres(), 100 + 800 * spot.up(), place.label());
        }
    }

    @Test
    void whatIsNoCabinetIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> SurveyLayout.of(60, 500, 800, false));
        assertThrows(
                IllegalArgumentException.class, () -> SurveyLayout.of(600, Double.NaN, 800, false));
    }
}
