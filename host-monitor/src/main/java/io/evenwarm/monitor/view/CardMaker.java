package io.evenwarm.monitor.view;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.chart.Mark;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.view.CabinetCard.FindingLine;
import io.evenwarm.monitor.view.CabinetCard.ProbeValue;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.quantity.TemperatureWords;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;

/** Makes a cabinet's card of what is known of it. Pure. */
final class CardMaker {

    /** Nearer than this the cabinet holds its set point: twice the band that it is held to. */
    private static final double HOLDING_KELVIN = 0.3;

    /** What a person must act on first comes first; codes not named here follow. */
    private static final List<FindingCode> WORST_FIRST =
            List.of(
                    FindingCode.CUT_OFF_TRIPPED,
                    FindingCode.TOO_WARM,
                    FindingCode.OUTPUT_FAILING,
                    FindingCode.BLIND,
                    FindingCode.FAN_STOPPED,
                    FindingCode.TOO_COLD,
                    FindingCode.PROBES_DISAGREE,
                    FindingCode.PROBE_LOST);

    private final TemperatureUnit unit;

    private final Instant wall;
    private final ZoneId zone;
    private final WindowEggs eggs;

    /**
     * @param wall the monitor's time now
     * @param zone for times of day
     * @param eggs the cabinets' eggs by their models
     */
    CardMaker(TemperatureUnit unit, Instant wall, ZoneId zone, WindowEggs eggs) {
        this.unit = unit;
        this.wall = wall;
        this.zone = zone;
        this.eggs = eggs;
    }

    CabinetCard card(LiveCabinet live) {
        CabinetSnapshot snapshot = live.snapshot();
        CardState state = state(live);
        Duration age = age(live);
        Optional<Double> processValue =
                snapshot.processValue().map(value -> unit.fromCelsius(value.celsius()));
        boolean alive = state.isAlive();
        String number =
                alive
                        ? processValue.map(CardMaker::oneDecimal).orElse("No reading")
                        : state.words();
        return new CabinetCard(
                live.key(),
                state,
                number,
                alive && processValue.isPresent() ? unit.symbol() : "",
                alive ? "" : lastKnown(processValue, age),
                setPoint(snapshot, alive),
                snapshot.probes().stream().map(probe -> probeValue(probe, alive)).toList(),
                duty(snapshot, alive),
                alive
                        ? Words.sentence(snapshot.guard().words())
                        : "What the guard allows now is not known",
                alive ? work(live) : "",
                alive ? "Read " + Words.age(age) : "Last heard " + Words.age(live.sinceReceived()),
                eggs(live),
                findings(live),
                Optional.empty());
    }

    /** A cabinet that history knows and that has not been heard of since the monitor's start. */
    CabinetCard unheard(CabinetKey key, Instant lastReading) {
        return new CabinetCard(
                key,
                CardState.LOST,
                CardState.LOST.words(),
                "",
                "last stored reading " + Words.moment(lastReading, wall, zone),
                "Set point not known",
                List.of(),
                "Heater not known",
                "What the guard allows now is not known",
                "",
                "Not heard since this monitor started",
                "",
                List.of(),
                Optional.empty());
    }

    private String eggs(LiveCabinet live) {
        boolean isLive = live.liveness() == Liveness.LIVE;
        Optional<Duration> silent = isLive ? Optional.empty() : Optional.of(live.sinceReceived());
        return eggs.withoutHeat(live.key())
                .map(
                        its ->
                                its.timeWords(unit, silent)
                                        + " "
                                        + eggs.estimated(live.key())
                                                .filter(known -> isLive)
                                                .flatMap(this::estimated)
                                                .orElseGet(() -> its.eggWords(unit, isLive)))
                .orElse("");
    }

    /** The newest of an estimate, with its band. */
    private Optional<String> estimated(WindowEggs.Estimated its) {
        int last = its.likely().size() - 1;
        if (last < 0 || !Double.isFinite(its.likely().value(last))) {
            return Optional.empty();
        }
        return Optional.of(
                "Eggs about "
                        + oneDecimal(unit.fromCelsius(its.likely().value(last)))
                        + " "
                        + unit.symbol()
                        + ", "
                        + oneDecimal(unit.fromCelsius(its.low().value(last)))
                        + " to "
                        + oneDecimal(unit.fromCelsius(its.high().value(last)))
                        + ", estimated.");
    }

    private static CardState state(LiveCabinet live) {
        CabinetSnapshot snapshot = live.snapshot();
        if (live.liveness() == Liveness.LOST) {
            return CardState.LOST;
        }
        if (live.liveness() == Liveness.STALE) {
            return CardState.STALE;
        }
        if (snapshot.guard() == GuardState.TRIPPED) {
            return CardState.TRIPPED;
        }
        if (!snapshot.findings().isEmpty() || snapshot.processValue().isEmpty()) {
            return CardState.ATTENTION;
        }
        boolean near =
                snapshot.processValue()
                        .filter(
                                value ->
                                        Math.abs(value.minus(snapshot.setPoint()).kelvin())
                                                <= HOLDING_KELVIN)
                        .isPresent();
        return near && snapshot.guard() == GuardState.ALLOWING
                ? CardState.WELL
                : CardState.SETTLING;
    }

    /** Of the newest air reading, in the monitor's own seconds. */
    private static Duration age(LiveCabinet live) {
        CabinetSnapshot snapshot = live.snapshot();
        long now = snapshot.moment().monotonicNanos();
        OptionalLong youngest =
                snapshot.probes().stream()
                        .filter(probe -> probe.place().kind().isAir())
                        .filter(probe -> probe.reading().quantity().isPresent())
                        .mapToLong(probe -> now - probe.reading().sampledAtNanos())
                        .min();
        long atTheAgent = (long) (Math.max(0, youngest.orElse(0)) / live.clockRate());
        return live.sinceReceived().plusNanos(atTheAgent);
    }

    /** By the monitor's own clock: the agent's may be hours wrong. */
    private String work(LiveCabinet live) {
        CabinetSnapshot snapshot = live.snapshot();
        return snapshot.plannedWorkUntilNanos()
                .map(
                        until -> {
                            double agentNanos = until - snapshot.moment().monotonicNanos();
                            Instant end =
                                    wall.minus(live.sinceReceived())
                                            .plusNanos((long) (agentNanos / live.clockRate()));
                            return "Planned work until " + Words.moment(end, wall, zone);
                        })
                .orElse("");
    }

    private String lastKnown(Optional<Double> processValue, Duration age) {
        return processValue
                .map(
                        value ->
                                "last known "
                                        + oneDecimal(value)
                                        + " "
                                        + unit.symbol()
                                        + ", "
                                        + Words.age(age))
                .orElse("no reading was known, " + Words.age(age));
    }

    private String setPoint(CabinetSnapshot snapshot, boolean alive) {
        String inForce = (alive ? "Set " : "Was set to ") + unit.format(snapshot.setPoint(), 1);
        return snapshot.setPoint().equals(snapshot.configuredSetPoint())
                ? inForce
                : inForce
                        + " (file "
                        + oneDecimal(unit.fromCelsius(snapshot.configuredSetPoint().celsius()))
                        + ")";
    }

    private static String duty(CabinetSnapshot snapshot, boolean alive) {
        if (!alive) {
            return "Heater not known";
        }
        return String.format(
                Locale.ROOT,
                "heat %.0f %%, heater %s",
                snapshot.duty().percent(),
                snapshot.heaterOn() ? "on" : "off");
    }

    private ProbeValue probeValue(ProbeReading probe, boolean alive) {
        Reading reading = probe.reading();
        String value =
                reading.fold(
                        good -> quantity(good.value()),
                        uncertain -> quantity(uncertain.value()) + " ?",
                        bad -> bad.doubt().words());
        boolean good = alive && reading.fold(its -> true, its -> false, its -> false);
        return new ProbeValue(
                SpecMaker.label(probe.probe(), probe.place()),
                Mark.of(probe.place().kind()),
                value,
                good);
    }

    private String quantity(Quantity quantity) {
        return quantity.fold(
                temperature -> oneDecimal(unit.fromCelsius(temperature.celsius())),
                humidity -> String.format(Locale.ROOT, "%.0f %%", humidity.percent()));
    }

    private List<FindingLine> findings(LiveCabinet live) {
        long now = live.snapshot().moment().monotonicNanos();
        return live.snapshot().findings().stream()
                .sorted(Comparator.comparingInt(CardMaker::rank))
                .map(finding -> line(finding, now))
                .toList();
    }

    private FindingLine line(Finding finding, long nowNanos) {
        Duration held = Duration.ofNanos(Math.max(0, nowNanos - finding.raisedAtNanos()));
        String probe = finding.probe().map(name -> ": " + name).orElse("");
        return new FindingLine(
                Words.finding(finding.code()) + probe + ", for " + Words.duration(held),
                Words.sentence(TemperatureWords.inUnit(finding.evidence(), unit)),
                TemperatureWords.inUnit(finding.action(), unit),
                TemperatureWords.inUnit(finding.advice(), unit));
    }

    private static int rank(Finding finding) {
        int rank = WORST_FIRST.indexOf(finding.code());
        return rank < 0 ? WORST_FIRST.size() : rank;
    }

    private static String oneDecimal(double value) {
        return String.format(Locale.ROOT, "%.1f", value);
    }
}
