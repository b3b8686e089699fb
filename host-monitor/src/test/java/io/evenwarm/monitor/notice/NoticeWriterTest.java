package io.evenwarm.monitor.notice;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** A notice says in words what its facts say, so that it is understood at three in the morning. */
final class NoticeWriterTest {

    @Test
    void whatTheTimeLeftRestsOnIsSaidAndKept() {
        CabinetFacts cold = Notices.cold("north");
        CabinetFacts facts =
                new CabinetFacts(
                        cold.cabinet(),
                        cold.what(),
                        cold.since(),
                        cold.top(),
                        cold.middle(),
                        cold.bottom(),
                        cold.trendKelvinPerHour(),
                        cold.timeLeft(),
                        "this cabinet's own model",
                        cold.tubsAtStake(),
                        cold.agentDid(),
                        cold.doFirst(),
                        cold.couldGoTo());
        Notice notice = Notices.of("alarm-1", 1, NoticeKind.FIRST, facts);
        assertTrue(
                notice.body().contains("\n  That rests on: this cabinet's own model\n"),
                notice.body());
        assertEquals(notice, NoticeJson.parse(NoticeJson.text(notice)));
        assertFalse(Notices.of("alarm-1", 1, NoticeKind.FIRST, cold).body().contains("rests on"));
    }

    @Test
    void aNoticeSaysWhatSinceWhenHowLongAndWhatToDo() {
        Notice notice = Notices.first("mains-7");
        assertEquals(
                "ACT NOW: north too cold, 25.2 °C to 26.1 °C, 3 h 20 min left", notice.subject());
        assertEquals(
                """
                ACT NOW.

                north: too cold
                  Since: Fri 1 Mar 2030 02:28 CET, 36 min ago
                  Now: top 26.1 °C, middle 26.0 °C, bottom 25.2 °C
                  Trend: falls 1.2 K an hour
                  Eggs have: 3 h 20 min left, a careful estimate
                  Tubs at stake: A1; B2
                  The agent did: asked for full heat; closed the cut-off relay
                  Do first: Look whether the heater's fuse is whole.
                  Tubs could go to: south, 4 free places

                Written Fri 1 Mar 2030 03:04 CET. Event mains-7, notice 1.
                """,
                notice.body());
    }

    @Test
    void temperaturesAreInTheUnitThatIsChosen() {
        Notice notice =
                new NoticeWriter(TemperatureUnit.FAHRENHEIT, ZoneId.of("America/Chicago"))
                        .write(
                                "e1",
                                1,
                                NoticeKind.FIRST,
                                Notices.NIGHT,
                                NoticePriority.MEDIUM,
                                List.of(Notices.cold("north")));
        // 25.2 °C and 26.14 °C by t/°F = 1.8 t/°C + 32; a difference of 1.2 K is 2.16 °F.
        assertEquals(
                "Act soon: north too cold, 77.4 °F to 79.1 °F, 3 h 20 min left", notice.subject());
        assertTrue(notice.body().contains("Trend: falls 2.2 °F an hour\n"), notice.body());
        assertTrue(notice.body().contains("Since: Thu 28 Feb 2030 19:28 CST"), notice.body());
    }

    @Test
    void whatTheTimeLeftRestsOnIsToldInThatUnitToo() {
        CabinetFacts cold = Notices.cold("north");
        Notice notice =
                new NoticeWriter(TemperatureUnit.FAHRENHEIT, ZoneId.of("America/Chicago"))
                        .write(
                                "e1",
                                1,
                                NoticeKind.FIRST,
                                Notices.NIGHT,
                                NoticePriority.MEDIUM,
                                List.of(
                                        new CabinetFacts(
                                                cold.cabinet(),
                                                cold.what(),
                                                cold.since(),
                                                cold.top(),
                                                cold.middle(),
                                                cold.bottom(),
                                                cold.trendKelvinPerHour(),
                                                cold.timeLeft(),
                                                "off by 0.20 K, eggs about 30.5 °C, limit 24.0 °C",
                                                cold.tubsAtStake(),
                                                List.of("found 26.0 °C at the top"),
                                                cold.doFirst(),
                                                cold.couldGoTo())));
        assertTrue(
                notice.body()
                        .contains(
                                "That rests on: off by 0.36 °F, eggs about 86.9 °F, limit 75.2"
                                        + " °F\n"),
                notice.body());
        assertTrue(notice.body().contains("The agent did: found 78.8 °F at the top\n"));
    }

    @Test
    void fiveCabinetsOfOneEventAreOneMessageThatListsThemByTimeLeft() {
        List<CabinetFacts> facts = new ArrayList<>();
        for (int i = 0; i < 5; i++) {
            CabinetFacts cold = Notices.cold("box " + i);
            facts.add(
                    new CabinetFacts(
                            cold.cabinet(),
                            cold.what(),
                            cold.since(),
                            cold.top(),
                            cold.middle(),
                            cold.bottom(),
                            cold.trendKelvinPerHour(),
                            Optional.of(Duration.ofMinutes(300 - 10 * i)),
                            List.of(),
                            List.of(),
                            "",
                            List.of()));
        }
        Notice notice = Notices.of("e1", 1, NoticeKind.FIRST, facts.toArray(CabinetFacts[]::new));
        assertEquals(
                "ACT NOW: 5 cabinets too cold, 4 h 20 min left: box 4, box 3, box 2, box 1, box 0",
                notice.subject());
        assertEquals(
                List.of("box 4", "box 3", "box 2", "box 1", "box 0"),
                notice.body()
                        .lines()
                        .filter(line -> line.startsWith("box"))
                        .map(line -> line.substring(0, 5))
                        .toList());
    }

    @Test
    void whatIsNotKnownIsNotMadeUp() {
        Notice notice = Notices.of("e1", 1, NoticeKind.FIRST, Notices.bare("north"));
        assertEquals("ACT NOW: north silent", notice.subject());
        assertEquals(
                """
                ACT NOW.

                north: silent
                  Since: Fri 1 Mar 2030 03:04 CET, 0 min ago
                  Now: no temperature is known

                Written Fri 1 Mar 2030 03:04 CET. Event e1, notice 1.
                """,
                notice.body());
    }

    @Test
    void followUpsAllClearsAndDrillsSayWhatTheyAre() {
        CabinetFacts north = Notices.cold("north");
        assertEquals(
                "ACT NOW (update 3): north too cold, 25.2 °C to 26.1 °C, 3 h 20 min left",
                Notices.of("e1", 3, NoticeKind.FOLLOW_UP, north).subject());
        Notice clear = Notices.of("e1", 4, NoticeKind.ALL_CLEAR, north);
        assertEquals("All clear: north no longer too cold", clear.subject());
        assertTrue(clear.body().startsWith("This is over."), clear.body());
        Notice drill = Notices.of("e2", 1, NoticeKind.DRILL, north);
        assertTrue(drill.subject().startsWith("DRILL, nothing is wrong: north"), drill.subject());
        assertTrue(drill.body().startsWith("This is a drill. Nothing is wrong"), drill.body());
    }

    @Test
    void namesOfAnyCharactersStayOnTheirLine() {
        String name = "Nörd\r\nBcc: all@example.org\u2028\u202E\"x\" \u0000卵";
        Notice notice = Notices.of("e1", 1, NoticeKind.FIRST, Notices.cold(name));
        assertTrue(
                notice.subject().startsWith("ACT NOW: Nörd Bcc: all@example.org \"x\" 卵 too cold"),
                notice.subject());
        assertTrue(
                notice.body().contains("\nNörd Bcc: all@example.org \"x\" 卵: too cold\n"),
                notice.body());
        assertThrows(
                IllegalArgumentException.class,
                () ->
                        new Notice(
                                "e1",
                                1,
                                NoticeKind.FIRST,
                                Notices.NIGHT,
                                NoticePriority.LOW,
                                "one\r\nBcc: all@example.org",
                                "",
                                List.of()));
    }

    @Test
    void aLongNameIsCutBetweenCharacters() {
        String eggs = "\uD83E\uDD5A".repeat(50);
        assertEquals("\uD83E\uDD5A".repeat(9) + "…", PlainLine.of(eggs, 10));
        assertFalse(PlainLine.isOne("a\u0085b"));
    }

    @Test
    void aTimeLeftIsRoundedDownAndNoneIsSaidInWords() {
        for (String[] row :
                new String[][] {
                    {"PT59S", "no time left"},
                    {"PT59M59S", "59 min left"},
                    {"PT23H59M", "23 h 59 min left"},
                    {"PT50H", "2 d 2 h left"}
                }) {
            CabinetFacts cold = Notices.bare("north");
            Notice notice =
                    Notices.of(
                            "e1",
                            1,
                            NoticeKind.FIRST,
                            new CabinetFacts(
                                    "north",
                                    "cold",
                                    cold.since(),
                                    Optional.of(Temperature.ofCelsius(20)),
                                    Optional.empty(),
                                    Optional.empty(),
                                    OptionalDouble.of(0.01),
                                    Optional.of(Duration.parse(row[0])),
                                    List.of(),
                                    List.of(),
                                    "",
                                    List.of()));
            assertEquals("ACT NOW: north cold, 20.0 °C, " + row[1], notice.subject());
            assertTrue(notice.body().contains("Trend: steady\n"), notice.body());
        }
    }

    @Test
    void theSameEventAndRevisionHasTheSameIdWhoeverAsks() {
        assertEquals(Notices.first("e1").id(), Notices.first("e1").id());
        Notice later = Notices.of("e1", 2, NoticeKind.FOLLOW_UP, Notices.cold("north"));
        assertEquals(Notices.first("e1").id(), later.firstId());
        assertFalse(later.id().equals(later.firstId()));
        assertThrows(IllegalArgumentException.class, () -> Notices.first("e 1"));
    }

    @Test
    void aNoticeComesBackFromItsJsonAsItWas() {
        for (Notice notice :
                List.of(
                        Notices.first("e1"),
                        Notices.of("e.2", 7, NoticeKind.ALL_CLEAR, Notices.bare("q\"\\\n\u2028")),
                        Notices.of(
                                "e3",
                                2,
                                NoticeKind.FOLLOW_UP,
                                Notices.cold("卵 }{ \uD83E\uDD5A")))) {
            String json = NoticeJson.text(notice);
            assertEquals(notice, NoticeJson.parse(json));
            assertFalse(json.contains("\n"), json);
        }
        assertEquals(
                "no notice: \"cabinets\" is missing",
                assertThrows(IllegalArgumentException.class, () -> NoticeJson.parse("{}"))
                        .getMessage());
    }
}
