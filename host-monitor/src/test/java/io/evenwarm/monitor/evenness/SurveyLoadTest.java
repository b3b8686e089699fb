package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class SurveyLoadTest {

    private static final TimeSpan SPAN =
            new TimeSpan(InventedCabinet.at(600), InventedCabinet.at(1200));

    private static Tub tub(String name, double fromMinute, Optional<Double> toMinute) {
        return new Tub(
                name,
                InventedCabinet.KEY,
                "shelf 1",
                1500,
                "invented",
                InventedCabinet.at(fromMinute),
                toMinute.map(InventedCabinet::at));
    }

    private static SurveyLoad load(Optional<SurveyLoad.Kind> said, Tub... tubs) {
        return load(said, SurveyWords.NONE, tubs);
    }

    private static SurveyLoad load(
            Optional<SurveyLoad.Kind> said, SurveyWords before, Tub... tubs) {
        return SurveyLoad.of(
                said,
                new SurveyLoad.Known(said, Optional.empty(), before, List.of(tubs)),
                InventedCabinet.KEY,
                SPAN);
    }

    private static SurveyWords.Load saidOf(double from, double to, SurveyLoad.Kind kind) {
        return new SurveyWords.Load(
                InventedCabinet.KEY,
                new TimeSpan(InventedCabinet.at(from), InventedCabinet.at(to)),
                kind);
    }

    @Test
    void whatWasSaidOfMostOfTheSpanBeforeCountsAndTheLastOfIt() {
        SurveyWords before =
                new SurveyWords(
                        List.of(
                                saidOf(500, 1000, SurveyLoad.Kind.LOADED),
                                saidOf(590, 1200, SurveyLoad.Kind.EMPTY),
                                saidOf(0, 700, SurveyLoad.Kind.LOADED)),
                        List.of());
        SurveyLoad load = load(Optional.empty(), before, tub("A", 0, Optional.empty()));
        assertEquals(Optional.of(SurveyLoad.Kind.EMPTY), load.kind());
        assertTrue(
                words(load)
                        .startsWith(
                                "Empty, as said of 2030-03-01 09:50 to 2030-03-01 20:00. But by the"
                                        + " record A stood in it"),
                words(load));
        SurveyLoad now = load(Optional.of(SurveyLoad.Kind.LOADED), before);
        assertEquals("Loaded, as said.", words(now));
    }

    private static String words(SurveyLoad load) {
        return load.words(InventedCabinet.WORDING);
    }

    @Test
    void tubsOnRecordSayThatItWasLoadedAndHowMuch() {
        SurveyLoad load =
                load(
                        Optional.empty(),
                        tub("A", 0, Optional.empty()),
                        tub("B", 60, Optional.of(2000.0)));
        assertEquals(Optional.of(SurveyLoad.Kind.LOADED), load.kind());
        assertEquals("Loaded: 2 tubs of 3.0 kg on record in it.", words(load));
    }

    @Test
    void tubsThatWereGoneSayThatItWasEmpty() {
        SurveyLoad load = load(Optional.empty(), tub("A", 0, Optional.of(500.0)));
        assertEquals(Optional.of(SurveyLoad.Kind.EMPTY), load.kind());
        assertEquals("Empty: no tub was on record in it.", words(load));
    }

    @Test
    void whereNoTubsWereEverKeptNothingIsKnownUnlessSaid() {
        assertEquals(Optional.empty(), load(Optional.empty()).kind());
        assertTrue(words(load(Optional.empty())).contains("is not known"));
        SurveyLoad said = load(Optional.of(SurveyLoad.Kind.EMPTY));
        assertEquals("Empty, as said.", words(said));
        assertEquals(Optional.empty(), said.contradiction());
    }

    @Test
    void aWordThatDoesNotFitTheRecordIsNamed() {
        SurveyLoad empty = load(Optional.of(SurveyLoad.Kind.EMPTY), tub("A", 0, Optional.empty()));
        assertEquals(
                "Empty, as said. But by the record A stood in it: which of the two is wrong?",
                words(empty));
        SurveyLoad loaded =
                load(Optional.of(SurveyLoad.Kind.LOADED), tub("A", 0, Optional.of(500.0)));
        assertTrue(words(loaded).contains("by the record no tub stood in it"), words(loaded));
    }

    @Test
    void aTubThatCameOrWentInTheMiddleIsNamed() {
        assertEquals(
                "Loaded: 1 tub of 1.5 kg on record in it. Tub A came in the middle,"
                        + " 2030-03-01 15:00.",
                words(load(Optional.empty(), tub("A", 900, Optional.empty()))));
        assertTrue(
                words(load(Optional.empty(), tub("A", 0, Optional.of(900.0))))
                        .contains("Tub A was moved in the middle"));
    }

    @Test
    void emptyAgainstLoadedIsNotTheSameQuestion() {
        SurveyLoad empty = load(Optional.of(SurveyLoad.Kind.EMPTY));
        SurveyLoad loaded = load(Optional.of(SurveyLoad.Kind.LOADED));
        assertTrue(empty.unlike(loaded).isPresent());
        assertEquals(Optional.empty(), empty.unlike(empty));
        assertEquals(Optional.empty(), empty.unlike(load(Optional.empty())));
    }
}
