package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.monitor.thermal.Battery;
import io.evenwarm.monitor.thermal.Outlook;
import io.evenwarm.monitor.thermal.Scenario;
import io.evenwarm.monitor.thermal.ThermalFacts;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.monitor.thermal.ThermalFitter;
import io.evenwarm.monitor.thermal.ThermalRecord;
import java.io.IOException;
import java.io.PrintStream;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm what-if}: how the eggs would go on. */
@Command(
        name = "what-if",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Foretells the coldest and the warmest eggs of a cabinet from its newest readings on, by"
                    + " its thermal model. Works while a monitor runs.",
            "0 with an answer; 1 when the history is too short for one."
        })
final class WhatIfCommand implements Callable<Integer> {

    private static final Pattern CHARGE = Pattern.compile("(\\d+(?:\\.\\d+)?)Wh");
    private static final Pattern LENGTH = Pattern.compile("(\\d+(?:\\.\\d+)?)(min|h)");

    /** More than this of history tells no more, and takes longer to read. */
    private static final Duration HISTORY = Duration.ofDays(14);

    private static final int RECENT_MINUTES = 2 * 24 * 60;
    private static final double SECONDS_PER_MINUTE = 60;
    private static final double SECONDS_PER_HOUR = 3600;

    /** What the heater would do. */
    enum Heating {
        off,
        stuck
    }

    /** What the fan would do. */
    enum Fan {
        on,
        off
    }

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(
            paramLabel = "CABINET",
            description = "its name; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Option(
            names = "--heating",
            paramLabel = "off|stuck",
            required = true,
            description = "off, or on all the time")
    private @Nullable Heating heating;

    @Option(
            names = "--fan",
            paramLabel = "on|off",
            description = "by default off with --heating off, as in a power cut, else on")
    private @Nullable Fan fan;

    @Option(
            names = "--ambient",
            paramLabel = "CELSIUS",
            description = "the room from now on; by default as it went the day before")
    private @Nullable Double ambientCelsius;

    @Option(names = "--for", paramLabel = "TIME", description = "such as 6h (by default) or 90min")
    private String length = "6h";

    @Option(
            names = "--battery",
            paramLabel = "TIME|WATT-HOURS",
            description =
                    "so long everything goes on as it is: a time such as 45min; or what the battery"
                            + " gives, such as 300Wh, then with --watts")
    private @Nullable String battery;

    @Option(
            names = "--watts-beside",
            paramLabel = "WATTS",
            description = "what the battery feeds beside the heater, such as fan and agent")
    private double besideWatts;

    @Option(
            names = "--generator-after",
            paramLabel = "TIME",
            description = "heat and fan are on again from then on")
    private @Nullable String generator;

    @Option(
            names = "--below",
            paramLabel = "CELSIUS",
            description = "when do the coldest eggs reach it? by default 20")
    private double belowCelsius = NewtonTimeLeft.Assumptions.DEFAULT.coldLimitCelsius();

    @Option(
            names = "--above",
            paramLabel = "CELSIUS",
            description = "when do the warmest eggs reach it? by default the cabinet's ceiling")
    private @Nullable Double aboveCelsius;

    @Option(
            names = "--watts",
            paramLabel = "WATTS",
            description = "what a meter showed while the heater was on")
    private @Nullable Double watts;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    private Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() throws IOException {
        return program().answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws StoreException {
        double seconds = seconds("--for", length);
        if (seconds > Outlook.HOURS * SECONDS_PER_HOUR) {
            throw new IllegalArgumentException(
                    "--for must be at most " + Outlook.HOURS + "h but was " + length);
        }
        scenario(0);
        Holding holding = holding();
        StoreOutside store = settings.storeFromOutside();
        HistoryQueries history = store.history();
        CabinetKey key = CabinetChoice.of(Parents.given(cabinet), history.cabinets());
        Optional<TimeSpan> extent = history.extent(key);
        if (extent.isEmpty()) {
            return tooShort(key);
        }
        // The end is excluded, and the last reading is what it is all about.
        Instant end = extent.get().to().plusMillis(1);
        Instant begin = end.minus(HISTORY);
        Instant first = extent.get().from().isAfter(begin) ? extent.get().from() : begin;
        CabinetCurves curves = history.everyReading(key, new TimeSpan(first, end));
        List<Tub> tubs = store.tubs(true);
        ThermalRecord record =
                ThermalHistory.of(curves, tubs, history.plannedWork(key, curves.span()));
        Optional<ThermalFit> fit =
                ThermalFitter.fit(
                        record,
                        new ThermalFacts(
                                ThermalHistory.loadKilograms(key, tubs),
                                OptionalDouble.empty(),
                                optional(watts)));
        if (fit.isEmpty()) {
            return tooShort(key);
        }
        double above =
                aboveCelsius != null
                        ? aboveCelsius
                        : curves.limits()
                                .map(limits -> limits.ceiling().celsius())
                                .orElse(Double.POSITIVE_INFINITY);
        ThermalRecord recent = record.last(RECENT_MINUTES);
        OptionalDouble batterySeconds = holding.seconds(fit.get(), recent);
        Outlook.Course course =
                new Outlook(fit.get(), recent).of(scenario(batterySeconds.orElse(0)));
        WhatIfAnswer answer =
                new WhatIfAnswer(
                        key,
                        extent.get().to(),
                        seconds,
                        course.coldestCelsius(seconds),
                        course.warmestCelsius(seconds),
                        belowCelsius,
                        course.secondsUntilColdAt(belowCelsius),
                        above,
                        course.secondsUntilWarmAt(above),
                        batterySeconds,
                        fit.get());
        PrintStream out = program().output().out();
        if (asJson) {
            out.println(answer.json());
        } else {
            answer.lines(settings.unit(), settings.zone()).forEach(out::println);
        }
        return Evenwarm.OK;
    }

    private int tooShort(CabinetKey key) {
        program()
                .output()
                .err()
                .println(
                        "there is too little history of "
                                + CabinetChoice.full(key)
                                + " for a thermal model: it takes two days or more of the air, of the"
                                + " room (a probe with place ambient) and of the heater being on for"
                                + " part of the time");
        return Evenwarm.FAILED;
    }

    /** For how long everything goes on at first, s; empty where no battery is given. */
    private interface Holding {
        OptionalDouble seconds(ThermalFit fit, ThermalRecord recent);
    }

    private Holding holding() {
        if (battery == null) {
            return (fit, recent) -> OptionalDouble.empty();
        }
        Matcher charge = CHARGE.matcher(battery);
        if (!charge.matches()) {
            OptionalDouble time = OptionalDouble.of(seconds("--battery", battery));
            return (fit, recent) -> time;
        }
        if (watts == null) {
            throw new IllegalArgumentException(
                    "--battery in watt-hours needs --watts, the heater's watts while it is on");
        }
        Battery charged = new Battery(Double.parseDouble(charge.group(1)), watts, besideWatts);
        return (fit, recent) ->
                OptionalDouble.of(
                        charged.seconds(Battery.heatShare(fit, recent, optional(ambientCelsius))));
    }

    /** With what holds at first for so long; said before anything is read, bad input ends it. */
    private Scenario scenario(double heldSeconds) {
        boolean isStuck = Parents.given(heating) == Heating.stuck;
        boolean isFanOn = fan == null ? isStuck : fan == Fan.on;
        return new Scenario(
                isStuck ? Scenario.Heating.STUCK_ON : Scenario.Heating.OFF,
                isFanOn,
                optional(ambientCelsius),
                heldSeconds,
                generator == null
                        ? OptionalDouble.empty()
                        : OptionalDouble.of(seconds("--generator-after", generator)));
    }

    private static OptionalDouble optional(@Nullable Double value) {
        return value == null ? OptionalDouble.empty() : OptionalDouble.of(value);
    }

    private static double seconds(String option, String text) {
        Matcher matcher = LENGTH.matcher(text);
        if (!matcher.matches()) {
            throw new IllegalArgumentException(
                    option
                            + " must be a time such as 6h or 90min"
                            + (option.equals("--battery") ? ", or a charge such as 300Wh," : "")
                            + " but was \""
                            + text
                            + "\"");
        }
        double count = Double.parseDouble(matcher.group(1));
        return count * (matcher.group(2).equals("h") ? SECONDS_PER_HOUR : SECONDS_PER_MINUTE);
    }
}
