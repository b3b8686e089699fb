package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The list of tubs is kept while a monitor has the store open. */
class TubsTest {

    private static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), Journal.NORTH);
    private static final CabinetKey SOUTH =
            new CabinetKey(new AgentName("egg room"), new CabinetName("south"));

    private final HistoryStore store;
    private final StoreOutside outside;

    TubsTest(@TempDir Path folder) throws StoreException {
        store = open(folder);
        outside = outside(folder);
    }

    HistoryStore open(Path at) throws StoreException {
        return HistoryStore.open(at);
    }

    StoreOutside outside(Path at) {
        return new StoreFile(at);
    }

    @AfterEach
    void close() {
        store.close();
    }

    private static Tub tub(String name, CabinetKey key, double from) {
        return new Tub(name, key, "2", 840, "11 eggs, damp", Journal.at(from), Optional.empty());
    }

    private List<String> names(boolean all) throws StoreException {
        return outside.tubs(all).stream()
                .map(tub -> tub.name() + " in " + tub.key().cabinet())
                .toList();
    }

    @Test
    void tubsAreListedByCabinetWhileTheyStandThere() throws StoreException {
        outside.addTub(tub("C7", SOUTH, 10));
        outside.addTub(tub("A1", NORTH, 30));
        outside.addTub(tub("B2", NORTH, 20));
        assertEquals(List.of("B2 in north", "A1 in north", "C7 in south"), names(false));
        assertEquals(tub("B2", NORTH, 20), outside.tubs(false).get(0));
        outside.endTub("B2", Journal.at(50));
        assertEquals(List.of("A1 in north", "C7 in south"), names(false));
        assertEquals(List.of("B2 in north", "A1 in north", "C7 in south"), names(true));
        assertEquals(Optional.of(Journal.at(50)), outside.tubs(true).get(0).to());
        // The same tub moves: one entry for each place.
        outside.addTub(tub("B2", SOUTH, 60));
        assertEquals(List.of("A1 in north", "C7 in south", "B2 in south"), names(false));
    }

    @Test
    void aNameStandsOnceAndGoesNotBeforeItCame() throws StoreException {
        outside.addTub(tub("A1", NORTH, 30));
        assertEquals(
                "tub \"A1\" stands in egg room / north since 2030-03-01T00:00:30Z: end it first"
                        + " (evenwarm tubs end), or name this one otherwise",
                assertThrows(StoreException.class, () -> outside.addTub(tub("A1", SOUTH, 40)))
                        .getMessage());
        assertEquals(
                "tub \"A1\" came at 2030-03-01T00:00:30Z and can't have gone at"
                        + " 2030-03-01T00:00:10Z",
                assertThrows(StoreException.class, () -> outside.endTub("A1", Journal.at(10)))
                        .getMessage());
        assertEquals(
                "no tub \"Z9\" stands anywhere now: evenwarm tubs lists those that do",
                assertThrows(StoreException.class, () -> outside.endTub("Z9", Journal.at(90)))
                        .getMessage());
        assertEquals(List.of("A1 in north"), names(true));
    }

    @Test
    void aTubThatCannotBeIsRefused() {
        for (double grams : new double[] {0, -5, Double.NaN, 2e5}) {
            assertThrows(
                    IllegalArgumentException.class,
                    () ->
                            new Tub(
                                    "A1",
                                    NORTH,
                                    "2",
                                    grams,
                                    "eggs",
                                    Journal.at(0),
                                    Optional.empty()));
        }
        assertEquals(
                "a tub's contents must be 1 to 200 characters on one line but was \"two?lines\"",
                assertThrows(
                                IllegalArgumentException.class,
                                () ->
                                        new Tub(
                                                "A1",
                                                NORTH,
                                                "2",
                                                800,
                                                "two\nlines",
                                                Journal.at(0),
                                                Optional.empty()))
                        .getMessage());
    }
}
