package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.NeedsTextLayout;
import io.evenwarm.monitor.chart.ProbeTrace;
import io.evenwarm.monitor.view.ViewState.ChartSize;
import io.evenwarm.monitor.view.WindowModel.ChartUpdate;
import io.evenwarm.monitor.view.WindowModel.LogUpdate;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** The way from what is known to what is shown, in one thread and on a clock of its own. */
@NeedsTextLayout
final class WindowWorkerTest {

    private Instant now = Samples.NOON;
    private final List<WindowModel> models = new ArrayList<>();
    private final List<ChartUpdate> charts = new ArrayList<>();
    private final List<LogUpdate> logs = new ArrayList<>();
    private final InventedCabinets cabinets =
            new InventedCabinets(
                    () -> now, Duration.ofDays(2), List.of(InventedCabinets.Story.values()));
    private final WallClock wall =
            new WallClock() {
                @Override
                public Instant now() {
                    return now;
                }

                @Override
                public boolean isTrusted() {
                    return true;
                }
            };
    private ViewState choices =
            new ViewState(
                    Optional.of(InventedCabinets.Story.CALM.key()),
                    Viewport.following(SpanChoice.HOUR),
                    TemperatureUnit.CELSIUS,
                    false,
                    true,
                    new ChartSize(700, 400, 1));
    private final WindowContext context =
            new WindowContext(
                    cabinets,
                    cabinets.history(),
                    cabinets,
                    new InventedWindowAlarms(Samples.NOON),
                    TemperatureUnit.CELSIUS,
                    ZoneOffset.UTC,
                    this::nanos,
                    wall,
                    Optional.empty(),
                    () -> {});
    private final ThrottledDoor door = new ThrottledDoor(Runnable::run, this::nanos);
    private final HistoryWorker history =
            new HistoryWorker(context.history(), this::nanos, () -> {});
    private final AlarmWorker alarmWorker = new AlarmWorker(context.alarms(), () -> {});
    private final List<AlarmsModel> alarms = new ArrayList<>();
    private final WindowWorker worker =
            new WindowWorker(
                    context,
                    () -> choices,
                    "SansSerif",
                    history,
                    alarmWorker,
                    door,
                    new WindowWorker.Sink() {
                        @Override
                        public void model(WindowModel model) {
                            models.add(model);
                        }

                        @Override
                        public void chart(ChartUpdate chart) {
                            charts.add(chart);
                        }

                        @Override
                        public void log(LogUpdate log) {
                            logs.add(log);
                        }

                        @Override
                        public void alarms(AlarmsModel its) {
                            alarms.add(its);
                        }
                    });

    private long nanos() {
        return Duration.between(Samples.NOON, now).toNanos();
    }

    private void run(Duration time) {
        Instant end = now.plus(time);
        while (now.isBefore(end)) {
            worker.step();
            history.step();
            now = now.plusMillis(100);
        }
    }

    private ChartUpdate newestChart() {
        return charts.get(charts.size() - 1);
    }

    private static ProbeTrace top(ChartUpdate chart) {
        return chart.spec().probes().stream()
                .filter(probe -> probe.label().equals("top"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void theFirstLookShowsTheCabinetsAndSaysThatHistoryIsBeingFetched() {
        worker.step();
        assertEquals(5, models.get(0).cards().size());
        assertEquals(
                "5 cabinets: 1 no contact, 1 old reading, 1 cut off, 1 needs a look, 1 holding",
                models.get(0).summary());
        assertTrue(newestChart().note().orElseThrow().startsWith("Fetching"));
    }

    @Test
    void theCurveIsLiveWithinASecondAndGoesBackThroughHistory() {
        run(Duration.ofSeconds(30));
        ChartUpdate chart = newestChart();
        assertTrue(chart.note().isEmpty(), chart.note().toString());
        long lastTick = now.toEpochMilli() / 1000 * 1000;
        assertFalse(
                Double.isNaN(top(chart).trace().valueAt(lastTick - 1000)), "no live reading drawn");
        assertTrue(
                top(chart).trace().hasPointBetween(lastTick - 1000, lastTick + 1),
                "the newest second is missing");
        for (int minute = 1; minute < 60; minute++) {
            Instant at = now.minus(Duration.ofMinutes(minute));
            assertFalse(
                    Double.isNaN(top(chart).trace().valueAt(at.toEpochMilli())),
                    "a hole " + minute + " minutes ago");
        }
    }

    @Test
    void theDoorPassesAtMostTenTimesASecond() {
        run(Duration.ofSeconds(20));
        assertTrue(door.passes() <= 200, door.passes() + " in 20 s");
        assertTrue(charts.size() >= 20 && charts.size() <= 40, charts.size() + " charts in 20 s");
    }

    @Test
    void aChangedUnitIsDrawnAtTheNextLook() {
        run(Duration.ofSeconds(2));
        int before = charts.size();
        choices = choices.withUnit(TemperatureUnit.FAHRENHEIT);
        worker.step();
        assertEquals(before + 1, charts.size());
        assertEquals(TemperatureUnit.FAHRENHEIT, newestChart().spec().frame().unit());
        assertTrue(models.get(models.size() - 1).cards().get(1).setPoint().contains("88.7 °F"));
    }

    @Test
    void aLostCabinetsCurveEndsAndTheRestIsMarked() {
        choices = choices.withSelected(InventedCabinets.Story.LOST.key());
        choices = choices.withViewport(Viewport.following(SpanChoice.SIX_HOURS));
        run(Duration.ofSeconds(3));
        assertEquals(
                Optional.of(Samples.NOON.minusSeconds(3 * 3600 + 260)),
                newestChart().spec().silentSince());
        assertTrue(
                Double.isNaN(top(newestChart()).trace().valueAt(now.toEpochMilli())),
                "an old value must not be read off as current");
    }

    @Test
    void aZoomIntoThePastShowsThatStretchAndStaysThere() {
        run(Duration.ofSeconds(2));
        Instant from = now.minus(Duration.ofHours(30));
        choices =
                choices.withViewport(choices.viewport().between(from, from.plusSeconds(1200), now));
        run(Duration.ofSeconds(3));
        assertEquals(from, newestChart().spec().span().from());
        assertTrue(newestChart().note().isEmpty());
        assertFalse(newestChart().spec().atNow());
    }

    @Test
    void aSpanBeforeTheFirstReadingSaysSo() {
        run(Duration.ofSeconds(2));
        Instant from = now.minus(Duration.ofDays(20));
        choices =
                choices.withViewport(choices.viewport().between(from, from.plusSeconds(1200), now));
        run(Duration.ofSeconds(3));
        assertTrue(
                newestChart().note().orElseThrow().startsWith("No readings in this span"),
                newestChart().note().toString());
    }

    @Test
    void theLogOfTheChosenCabinetIsTold() {
        choices = choices.withSelected(InventedCabinets.Story.DISAGREES.key());
        run(Duration.ofSeconds(2));
        LogUpdate log = logs.get(logs.size() - 1);
        assertEquals("Probes disagree", log.lines().get(0).headline());
        assertTrue(log.lines().get(0).open());
        assertTrue(log.lines().get(0).lasted().startsWith("still, 26 min"));
        assertEquals("Probe lost", log.lines().get(1).headline());
        assertEquals("7 min", log.lines().get(1).lasted());
    }

    @Test
    void theMostPressingAlarmOfACabinetStandsOnItsCard() {
        alarmWorker.round();
        worker.step();
        assertEquals(5, alarms.get(alarms.size() - 1).open().size());
        CabinetCard tripped =
                models.get(models.size() - 1).cards().stream()
                        .filter(card -> card.key().equals(InventedCabinets.Story.TRIPPED.key()))
                        .findFirst()
                        .orElseThrow();
        assertEquals(
                "Alarm, high: cut off tripped, eggs have 38 min",
                tripped.alarm().orElseThrow().words());
        assertTrue(tripped.spoken().contains("Alarm, high: cut off tripped"));
    }
}
