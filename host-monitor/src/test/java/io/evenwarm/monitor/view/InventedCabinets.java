package io.evenwarm.monitor.view;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.monitor.live.CommandSender;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;

/**
 * Five invented cabinets for window tests and pictures: one calm, one whose top probe disagrees,
 * one tripped, one stale, one lost. Every value is a function of the time, so live and stored
 * agree.
 */
public final class InventedCabinets implements LiveView, CommandSender {

    static final AgentName AGENT = new AgentName("egg room");
    static final AgentName CELLAR = new AgentName("cellar");

    /** What an invented cabinet is up to. */
    public enum Story {
        CALM("north", "egg room"),
        DISAGREES("south", "egg room"),
        TRIPPED("tall one", "egg room"),
        STALE("nursery", "egg room"),
        LOST("old fridge", "cellar");

        private final String cabinet;
        private final String agent;

        Story(String cabinet, String agent) {
            this.cabinet = cabinet;
            this.agent = agent;
        }

        public CabinetKey key() {
            return new CabinetKey(new AgentName(agent), new CabinetName(cabinet));
        }
    }

    private static final BootId BOOT =
            new BootId(UUID.fromString("00000000-0000-4000-8000-000000000001"));
    private static final long STEP_MILLIS = 5000;

    private final Supplier<Instant> now;
    private final Instant opened;
    private final List<Story> stories;
    private final Duration past;
    final List<Command> commands = new ArrayList<>();
    private volatile double setPointCelsius = 31.5;

    public InventedCabinets(Supplier<Instant> now, Duration past, List<Story> stories) {
        this.now = now;
        this.opened = now.get();
        this.past = past;
        this.stories = List.copyOf(stories);
    }

    static Limits limits(double setPoint) {
        return new Limits(
                Temperature.ofCelsius(setPoint - 1),
                Temperature.ofCelsius(setPoint + 1),
                Temperature.ofCelsius(setPoint + 2),
                Temperature.ofCelsius(setPoint + 3));
    }

    // The live side.

    @Override
    public List<LiveCabinet> cabinets() {
        return stories.stream().map(this::live).toList();
    }

    @Override
    public List<AgentState> agents() {
        boolean lost = stories.contains(Story.LOST);
        List<AgentState> agents = new ArrayList<>();
        if (!stories.isEmpty()) {
            agents.add(new AgentState(AGENT, true, "connected"));
        }
        if (lost || stories.isEmpty()) {
            agents.add(
                    new AgentState(
                            CELLAR,
                            false,
                            "192.0.2.17:4770 does not answer; tried 41 times, next in 12 s"));
        }
        return agents;
    }

    private LiveCabinet live(Story story) {
        Instant at = lastHeard(story);
        Liveness liveness =
                switch (story) {
                    case STALE -> Liveness.STALE;
                    case LOST -> Liveness.LOST;
                    default -> Liveness.LIVE;
                };
        return new LiveCabinet(
                story.key(), snapshot(story, at), liveness, Duration.between(at, now.get()), 1);
    }

    private Instant lastHeard(Story story) {
        return switch (story) {
            case STALE -> opened.minusSeconds(47);
            case LOST -> opened.minusSeconds(3 * 3600 + 260);
            default -> Instant.ofEpochMilli(now.get().toEpochMilli() / 1000 * 1000);
        };
    }

    private CabinetSnapshot snapshot(Story story, Instant at) {
        long nanos = at.toEpochMilli() * 1_000_000 / 1000;
        List<ProbeReading> probes = new ArrayList<>();
        for (ProbeName probe : probeNames(story)) {
            double value = value(story, probe, at);
            Reading reading =
                    Double.isNaN(value)
                            ? new Reading.Bad(Reading.Doubt.NOT_THERE, nanos - 900_000_000L)
                            : new Reading.Good(Temperature.ofCelsius(value), nanos - 900_000_000L);
            probes.add(new ProbeReading(probe, place(probe), reading));
        }
        boolean tripped = story == Story.TRIPPED;
        double middle = value(story, new ProbeName("middle"), at);
        double setPoint = story == Story.CALM ? setPointCelsius : 31.5;
        return new CabinetSnapshot(
                story.key().cabinet(),
                at.toEpochMilli() / 1000,
                new Moment(BOOT, nanos, at, true),
                probes,
                Optional.of(Temperature.ofCelsius(middle)),
                Temperature.ofCelsius(setPoint),
                Temperature.ofCelsius(31.5),
                limits(setPoint),
                Duty.ofFraction(tripped ? 0 : 0.36),
                !tripped && heaterOn(at.toEpochMilli()) > 0.5,
                Optional.of(!tripped),
                Optional.of(true),
                tripped ? GuardState.TRIPPED : GuardState.ALLOWING,
                findings(story, nanos),
                false);
    }

    private static List<Finding> findings(Story story, long nanos) {
        return switch (story) {
            case DISAGREES ->
                    List.of(
                            new Finding(
                                    FindingCode.PROBES_DISAGREE,
                                    Optional.of(new ProbeName("top")),
                                    nanos - Duration.ofMinutes(26).toNanos(),
                                    "top reads 32.6 °C, 1.1 K above middle and bottom.",
                                    "keeps heating by the middle and bottom probes.",
                                    "look whether the top probe hangs free and away from the"
                                            + " heater; put it back and wait 10 minutes."));
            case TRIPPED ->
                    List.of(
                            new Finding(
                                    FindingCode.TOO_WARM,
                                    Optional.empty(),
                                    nanos - Duration.ofMinutes(9).toNanos(),
                                    "Air at 33.1 °C, above 32.5 °C.",
                                    "heater off.",
                                    "open the door a hand's width until the air is below"
                                            + " 32.0 °C."),
                            new Finding(
                                    FindingCode.CUT_OFF_TRIPPED,
                                    Optional.empty(),
                                    nanos - Duration.ofMinutes(12).toNanos(),
                                    "top reached 33.6 °C at a cut-off of 33.5 °C while the heater"
                                            + " was asked to be off.",
                                    "heater off and cut-off relay open until a person resets it.",
                                    "the heater relay may be welded: unplug the heater, then let"
                                            + " it cool before you reset."));
            default -> List.of();
        };
    }

    /**
     * A window over them: in °C, local time and by the machine's clocks.
     *
     * @param stored what the window takes for their past
     */
    WindowContext window(HistoryQueries stored, WindowAlarms alarms, Runnable onClosed) {
        return new WindowContext(
                this,
                stored,
                this,
                alarms,
                TemperatureUnit.CELSIUS,
                ZoneId.of("Europe/Berlin"),
                SystemClock.monotonic(),
                SystemClock.wall(),
                Optional.of("Invented cabinets, invented data"),
                onClosed);
    }

    /** What is stored of them. */
    public HistoryQueries history() {
        return new Stored();
    }

    private final class Stored extends CurvesAlone {

        @Override
        public List<CabinetKey> cabinets() {
            return stories.stream().map(Story::key).toList();
        }

        @Override
        public Optional<TimeSpan> extent(CabinetKey key) {
            return story(key)
                    .map(story -> new TimeSpan(opened.minus(past), lastHeard(story).plusMillis(1)));
        }

        private Optional<Story> story(CabinetKey key) {
            return stories.stream().filter(story -> story.key().equals(key)).findFirst();
        }

        @Override
        public CabinetCurves curves(CabinetKey key, TimeSpan span) {
            Story story = story(key).orElseThrow();
            long from = Math.max(span.from().toEpochMilli(), opened.minus(past).toEpochMilli());
            long to =
                    Math.min(
                            span.to().toEpochMilli(),
                            lastHeard(story).toEpochMilli() - 20_000); // behind the live tail
            int size = (int) Math.max(0, (to - from) / STEP_MILLIS);
            long[] times = new long[size];
            double[] setPoint = new double[size];
            double[] heater = new double[size];
            for (int i = 0; i < size; i++) {
                times[i] = from + i * STEP_MILLIS;
                setPoint[i] = 31.5;
                heater[i] = heaterOn(times[i]);
            }
            List<ProbeCurve> probes = new ArrayList<>();
            for (ProbeName probe : probeNames(story)) {
                double[] values = new double[size];
                for (int i = 0; i < size; i++) {
                    values[i] = value(story, probe, Instant.ofEpochMilli(times[i]));
                }
                probes.add(
                        new ProbeCurve(
                                probe,
                                place(probe),
                                ProbeCurve.Unit.CELSIUS,
                                Curve.of(times, values, size)));
            }
            return new CabinetCurves(
                    key,
                    span,
                    probes,
                    Curve.of(times, setPoint, size),
                    Curve.of(times, heater, size),
                    Optional.of(limits(31.5)));
        }

        @Override
        public List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit) {
            Story story = key.flatMap(this::story).orElse(Story.CALM);
            Instant base = opened;
            List<LogEntry> log = new ArrayList<>();
            if (story == Story.TRIPPED) {
                log.add(
                        entry(
                                story,
                                FindingCode.TOO_WARM,
                                base.minusSeconds(540),
                                Optional.empty(),
                                "Air at 33.1 °C, above 32.5 °C."));
                log.add(
                        entry(
                                story,
                                FindingCode.CUT_OFF_TRIPPED,
                                base.minusSeconds(720),
                                Optional.empty(),
                                "top reached 33.6 °C at a cut-off of 33.5 °C while the heater was"
                                        + " asked to be off."));
            }
            if (story == Story.DISAGREES) {
                log.add(
                        entry(
                                story,
                                FindingCode.PROBES_DISAGREE,
                                base.minusSeconds(1560),
                                Optional.empty(),
                                "top reads 32.6 °C, 1.1 K above middle and bottom."));
                log.add(
                        entry(
                                story,
                                FindingCode.PROBE_LOST,
                                base.minusSeconds(14_000),
                                Optional.of(base.minusSeconds(13_560)),
                                "tub A not there."));
            }
            log.add(
                    new LogEntry(
                            story.key().agent(),
                            Optional.of(story.key().cabinet()),
                            Optional.empty(),
                            base.minusSeconds(17_000),
                            Optional.of(base.minusSeconds(17_000)),
                            "Set point changed from 31.0 °C to 31.5 °C."));
            log.add(
                    entry(
                            story,
                            FindingCode.TOO_COLD,
                            base.minusSeconds(19_300),
                            Optional.of(base.minusSeconds(18_400)),
                            "Air at 29.8 °C, below 30.5 °C."));
            log.add(
                    entry(
                            story,
                            FindingCode.FAN_STOPPED,
                            base.minusSeconds(80_000),
                            Optional.of(base.minusSeconds(70_100)),
                            "top 1.4 K warmer than bottom."));
            return log.stream()
                    .filter(its -> its.end().map(end -> end.isAfter(span.from())).orElse(true))
                    .limit(limit)
                    .toList();
        }

        private static LogEntry entry(
                Story story, FindingCode code, Instant begin, Optional<Instant> end, String words) {
            return new LogEntry(
                    story.key().agent(),
                    Optional.of(story.key().cabinet()),
                    Optional.of(code),
                    begin,
                    end,
                    words);
        }
    }

    // Commands.

    @Override
    public CompletableFuture<CommandOutcome> send(AgentName agent, Command command) {
        commands.add(command);
        return CompletableFuture.completedFuture(command.fold(new Answers()));
    }

    private final class Answers implements Command.Cases<CommandOutcome> {

        @Override
        public CommandOutcome setSetPoint(Command.SetSetPoint command) {
            setPointCelsius = command.setPoint().celsius();
            return new CommandOutcome.Done("the set point is now kept.");
        }

        @Override
        public CommandOutcome resetCutOff(Command.ResetCutOff command) {
            return new CommandOutcome.Refused(
                    "top still reads 33.1 °C; let it cool below 32.5 °C.");
        }

        @Override
        public CommandOutcome silence(Command.Silence command) {
            return new CommandOutcome.Done("silenced.");
        }

        @Override
        public CommandOutcome startPlannedWork(Command.StartPlannedWork command) {
            return new CommandOutcome.Done("planned work has begun.");
        }

        @Override
        public CommandOutcome endPlannedWork(Command.EndPlannedWork command) {
            return new CommandOutcome.Done("planned work has ended.");
        }

        @Override
        public CommandOutcome tune(Command.Tune command) {
            return new CommandOutcome.Done("a test begins.");
        }
    }

    // The invented values.

    private static List<ProbeName> probeNames(Story story) {
        List<String> names =
                story == Story.LOST
                        ? List.of("top", "bottom", "room")
                        : List.of("top", "middle", "bottom", "tub A", "room");
        return names.stream().map(ProbeName::new).toList();
    }

    private static ProbePlace place(ProbeName probe) {
        return switch (probe.value()) {
            case "tub A" -> ProbePlace.TUB;
            case "room" -> ProbePlace.AMBIENT;
            default -> ProbePlace.of(probe.value());
        };
    }

    private double value(Story story, ProbeName probe, Instant at) {
        double seconds = (at.toEpochMilli() - opened.toEpochMilli()) / 1000.0;
        double room = 21.5 + 3.2 * Math.sin(seconds / 86_400 * 2 * Math.PI);
        if (probe.value().equals("room")) {
            return sixteenths(room + noise(probe, at));
        }
        double layer =
                switch (probe.value()) {
                    case "top" -> 0.10;
                    case "bottom" -> -0.12;
                    default -> 0;
                };
        boolean tub = probe.value().equals("tub A");
        double value =
                31.5
                        + layer
                        + (tub ? 0.02 : 0.07 * Math.sin(seconds / 410 + layer * 4))
                        + 0.02 * (room - 21.5);
        double door = seconds + 19_600; // a door left ajar some hours ago
        if (door > 0) {
            double dip = door < 900 ? door / 900 : Math.exp(-(door - 900) / (tub ? 5200 : 700));
            value -= (tub ? 0.45 : 2.1) * dip;
        }
        if (story == Story.DISAGREES && probe.value().equals("top") && seconds > -1900) {
            value += 1.1 * Math.min(1, (seconds + 1900) / 300);
        }
        if (story == Story.DISAGREES && tub && seconds > -14_000 && seconds < -13_560) {
            return Double.NaN;
        }
        if (story == Story.TRIPPED && seconds > -1500) {
            double rise = Math.min(seconds, -720) + 1500;
            double fall = Math.max(0, seconds + 720);
            value += (tub ? 0.3 : 1) * (rise / 780 * 2.05 - Math.min(0.6, fall / 1200));
        }
        return sixteenths(value + noise(probe, at));
    }

    private static double noise(ProbeName probe, Instant at) {
        long seed = at.toEpochMilli() / 1000 * 31 + probe.value().hashCode();
        return 0.04 * (new SplittableRandom(seed).nextDouble() - 0.5);
    }

    private static double sixteenths(double value) {
        return Math.rint(value * 16) / 16;
    }

    private double heaterOn(long epochMillis) {
        double seconds = (epochMillis - opened.toEpochMilli()) / 1000.0;
        double share = 0.36 - 0.06 * Math.sin(seconds / 86_400 * 2 * Math.PI);
        double door = seconds + 19_600;
        if (door > 0 && door < 2400) {
            share = 0.95;
        }
        return Math.floorMod(epochMillis, 120_000) < share * 120_000 ? 1 : 0;
    }
}
