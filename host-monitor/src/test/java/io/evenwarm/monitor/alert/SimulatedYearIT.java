package io.evenwarm.monitor.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.AlarmPerformance;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.notice.channel.NeedsMosquitto;
import io.evenwarm.monitor.notice.channel.PostOffice;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Ten cabinets over a simulated time with faults and power cuts: who is told of what, by mail and
 * broker, how often, and how well the alarms served. {@code -Dyear.days=365 -Dyear.troubles=16} for
 * all of it; {@code -Dyear.seed} for another house.
 */
@Tag("long")
@NeedsMosquitto
final class SimulatedYearIT {

    private static final int DAYS = Integer.getInteger("year.days", 16);
    private static final int TROUBLES = Integer.getInteger("year.troubles", 13);
    private static final long SEED = Long.getLong("year.seed", 2030);

    /** What comes within this time after something was mended may come of it. */
    private static final double AFTERWARDS_SECONDS = 12 * 3600.0;

    private static final double SECONDS_PER_MINUTE = 60;

    /** The door of a reloading is open for 10 to 15 min. */
    private static final double RELOADING_SECONDS = 20 * 60.0;

    /** Each change of an alarm of this cabinet is printed. */
    private static final String SHOWN = System.getProperty("year.show", "");

    /** What came of one trouble. */
    private record Outcome(
            SimulatedHouse.Trouble trouble, List<Notice> notices, boolean isNamed, boolean spoke) {

        boolean isReached() {
            return trouble.reach() == SimulatedHouse.Reach.HOUSE ? spoke : !notices.isEmpty();
        }
    }

    @Test
    void everyTroubleReachesAPersonOnceAndNobodyIsWokenForNothing(@TempDir Path folder)
            throws Exception {
        try (PostOffice post = new PostOffice(folder, "keeper@example.org");
                SimulatedHouse house = new SimulatedHouse(SEED, DAYS, TROUBLES);
                SimulatedYear year =
                        new SimulatedYear(house, folder.resolve("data"), post.channels())) {
            year.live(DAYS);
            Map<Notice, Set<FindingCode>> events = year.events();
            Set<Notice> reloadings = new LinkedHashSet<>(events.keySet());
            reloadings.removeIf(
                    notice -> !isReloading(house, notice, events.getOrDefault(notice, Set.of())));
            events.keySet().removeAll(reloadings);
            Set<Notice> unexplained = new LinkedHashSet<>(events.keySet());
            List<Outcome> outcomes = new ArrayList<>();
            for (SimulatedHouse.Trouble trouble : house.troubles()) {
                outcomes.add(outcome(house, trouble, events, unexplained, year.switchSpoke()));
            }
            print(year, outcomes, events, unexplained);
            System.out.println(
                    reloadings.size()
                            + " of a door that was open for a reloading, "
                            + reloadings.stream().filter(SimulatedYearIT::wakes).count()
                            + " of them at night");
            Set<String> mailed =
                    post.mailedIds().stream()
                            .map(id -> id.substring(1, id.indexOf('.')))
                            .collect(Collectors.toSet());
            Set<String> published =
                    post.published().stream()
                            .map(notice -> notice.id().toString())
                            .collect(Collectors.toSet());
            for (Outcome outcome : outcomes) {
                assertTrue(outcome.isReached(), () -> "nobody heard of: " + outcome.trouble());
                for (Notice notice : outcome.notices()) {
                    assertTrue(mailed.contains(notice.id().toString()), notice::subject);
                    assertTrue(published.contains(notice.id().toString()), notice::subject);
                }
            }
            List<Outcome> unnamed = outcomes.stream().filter(one -> !one.isNamed()).toList();
            assertEquals(List.of(), unnamed, "told, but not of what it is");
            List<Outcome> twice =
                    outcomes.stream().filter(one -> one.notices().size() > 1).toList();
            assertEquals(List.of(), twice, "told twice of one cause");
            assertTrue(
                    unexplained.stream().filter(SimulatedYearIT::wakes).count() <= 1,
                    () -> "woken for nothing: " + subjects(unexplained));
        }
    }

    private static List<String> subjects(Set<Notice> notices) {
        return notices.stream().map(notice -> notice.at() + " " + notice.subject()).toList();
    }

    /** At a time at which people sleep, and pressing enough to be sent then. */
    private static boolean wakes(Notice notice) {
        LocalTime at = notice.at().atZone(ZoneOffset.UTC).toLocalTime();
        boolean isNight = at.isBefore(LocalTime.of(7, 0)) || !at.isBefore(LocalTime.of(22, 0));
        return isNight && notice.priority().isAtLeast(NoticePriority.MEDIUM);
    }

    /** The person who is told stands before the open door, and had not announced it. */
    private static boolean isReloading(
            SimulatedHouse house, Notice notice, Set<FindingCode> codes) {
        double at = Duration.between(SimulatedYear.BEGIN, notice.at()).toMillis() / 1000.0;
        String name = notice.cabinets().get(0).cabinet();
        for (int cabinet = 0; cabinet < SimulatedHouse.CABINETS; cabinet++) {
            CabinetKey key = house.keys().get(cabinet);
            if (name.equals(key.agent() + " / " + key.cabinet())) {
                return codes.contains(FindingCode.DOOR_OPEN)
                        && house.isReloading(cabinet, at, RELOADING_SECONDS);
            }
        }
        return false;
    }

    private static Outcome outcome(
            SimulatedHouse house,
            SimulatedHouse.Trouble trouble,
            Map<Notice, Set<FindingCode>> events,
            Set<Notice> unexplained,
            List<Double> switchSpoke) {
        Set<String> names = new LinkedHashSet<>();
        for (int cabinet : trouble.cabinets()) {
            CabinetKey key = house.keys().get(cabinet);
            names.add(key.agent() + " / " + key.cabinet());
            names.add(key.agent().value());
        }
        List<Notice> notices = new ArrayList<>();
        boolean isNamed = trouble.names().isEmpty();
        for (Map.Entry<Notice, Set<FindingCode>> event : events.entrySet()) {
            Notice notice = event.getKey();
            double at = Duration.between(SimulatedYear.BEGIN, notice.at()).toMillis() / 1000.0;
            boolean isThen =
                    at >= trouble.atSeconds() && at < trouble.untilSeconds() + AFTERWARDS_SECONDS;
            if (isThen
                    && notice.cabinets().stream()
                            .anyMatch(cabinet -> names.contains(cabinet.cabinet()))) {
                notices.add(notice);
                unexplained.remove(notice);
                isNamed |= event.getValue().stream().anyMatch(trouble.names()::contains);
            }
        }
        boolean spoke =
                switchSpoke.stream()
                        .anyMatch(at -> at >= trouble.atSeconds() && at < trouble.untilSeconds());
        return new Outcome(trouble, notices, isNamed, spoke);
    }

    private static void print(
            SimulatedYear year,
            List<Outcome> outcomes,
            Map<Notice, Set<FindingCode>> events,
            Set<Notice> unexplained) {
        System.out.printf(
                Locale.ROOT,
                "%d cabinets, %d days, seed %d: %d events told of, %d deliveries%n",
                SimulatedHouse.CABINETS,
                DAYS,
                SEED,
                events.size(),
                year.told().size());
        System.out.println("| trouble | from | told after | by | notices | first words |");
        System.out.println("|---|---|---|---|---|---|");
        for (Outcome outcome : outcomes) {
            SimulatedHouse.Trouble trouble = outcome.trouble();
            String after =
                    outcome.notices().isEmpty()
                            ? "never"
                            : after(trouble, outcome.notices().get(0));
            System.out.printf(
                    Locale.ROOT,
                    "| %s | day %.1f | %s | %s%s | %d | %s |%n",
                    trouble.name(),
                    trouble.atSeconds() / 86_400,
                    after,
                    outcome.notices().isEmpty() ? "" : "mail, broker",
                    outcome.spoke() ? ", outside switch" : "",
                    outcome.notices().size(),
                    outcome.notices().stream()
                            .map(
                                    notice ->
                                            notice.subject()
                                                    + " "
                                                    + events.getOrDefault(notice, Set.of()))
                            .collect(Collectors.joining("; ")));
        }
        unexplained.forEach(
                notice ->
                        System.out.printf(
                                Locale.ROOT,
                                "without a trouble: %s %s%s %s: %s%n",
                                notice.at(),
                                notice.priority(),
                                wakes(notice) ? ", at night" : "",
                                events.get(notice),
                                notice.subject()));
        AlarmPerformance figures =
                AlarmPerformance.of(
                        year.changes().stream().map(AlarmPerformance.Step::of).toList(),
                        new TimeSpan(
                                SimulatedYear.BEGIN,
                                SimulatedYear.BEGIN.plus(Duration.ofDays(DAYS))));
        Map<Priority, Double> shares = new HashMap<>();
        for (Priority priority : Priority.values()) {
            shares.put(priority, 100 * figures.share(priority));
        }
        System.out.printf(
                Locale.ROOT,
                "annunciations %d = %.4f an hour; most in ten minutes %d, in an hour %d; floods %d"
                        + " (%.4f %% of the time); low %.0f %%, medium %.0f %%, high %.0f %%; ten"
                        + " most frequent %.0f %%; chattering %d; stale %d, at most %d on one day;"
                        + " standing at the end %d%n",
                figures.annunciations(),
                figures.anHour(),
                figures.mostInTenMinutes(),
                figures.mostInOneHour(),
                figures.floods(),
                100 * figures.floodShare(),
                shares.get(Priority.LOW),
                shares.get(Priority.MEDIUM),
                shares.get(Priority.HIGH),
                100 * figures.frequentShare(),
                figures.chattering().size(),
                figures.stale().size(),
                figures.mostStaleOnADay(),
                figures.standing());
        if (!SHOWN.isEmpty()) {
            year.changes().stream()
                    .filter(change -> change.key().subject().toString().endsWith(SHOWN))
                    .forEach(
                            change ->
                                    System.out.println(
                                            "  "
                                                    + change.at().wall()
                                                    + " "
                                                    + change.event()
                                                    + " "
                                                    + change.key().trouble()
                                                    + ": "
                                                    + change.to().words()
                                                    + ", "
                                                    + change.why()
                                                    + "; "
                                                    + change.words().evidence()));
        }
        figures.frequent()
                .forEach(one -> System.out.println("  " + one.count() + " × " + one.alarm()));
        figures.stale().forEach(alarm -> System.out.println("  stale: " + alarm));
        for (int cabinet = 0; cabinet < SimulatedHouse.CABINETS; cabinet++) {
            System.out.printf(
                    Locale.ROOT,
                    "  cabinet %d: eggs %.2f to %.2f °C%n",
                    cabinet + 1,
                    year.coldestEggCelsius(cabinet),
                    year.warmestEggCelsius(cabinet));
        }
    }

    private static String after(SimulatedHouse.Trouble trouble, Notice notice) {
        double seconds =
                Duration.between(SimulatedYear.BEGIN, notice.at()).toMillis() / 1000.0
                        - trouble.atSeconds();
        return seconds < 7200
                ? String.format(Locale.ROOT, "%.1f min", seconds / SECONDS_PER_MINUTE)
                : String.format(Locale.ROOT, "%.1f h", seconds / 3600);
    }
}
