package io.evenwarm.agent;

import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Snapshots as a control thread would publish them, for tests of those who only read them. */
public final class Snapshots {

    public static final BootId BOOT = new BootId(new UUID(1, 2));

    /** An invented evening. */
    public static final Instant START = Instant.parse("2026-03-01T18:00:00Z");

    private static final long SECOND_NANOS = 1_000_000_000L;
    private static final Limits LIMITS =
            new Limits(celsius(30.5), celsius(32.5), celsius(33.5), celsius(34.5));

    private Snapshots() {}

    public static Temperature celsius(double value) {
        return Temperature.ofCelsius(value);
    }

    public static CabinetName cabinet(String name) {
        return new CabinetName(name);
    }

    /** The moment of a tick, with a wall clock that goes right. */
    public static Moment moment(long tick) {
        return new Moment(BOOT, tick * SECOND_NANOS, START.plusSeconds(tick), true);
    }

    /** Four healthy probes that read like a DS18B20, in steps of 1/16 °C. */
    public static CabinetSnapshot healthy(String cabinet, long tick, boolean heaterOn) {
        long sampled = tick * SECOND_NANOS - 400_000_000L;
        double swing = (tick * 7 + cabinet.length()) % 9 / 16.0;
        return new CabinetSnapshot(
                cabinet(cabinet),
                tick,
                moment(tick),
                List.of(
                        good("top", ProbePlace.TOP, 31.25 + swing, sampled),
                        good("middle", ProbePlace.MIDDLE, 31.1875 + swing, sampled),
                        good("bottom", ProbePlace.BOTTOM, 31.0625 + swing, sampled),
                        good("tub", ProbePlace.TUB, 31.375, sampled)),
                Optional.of(celsius(31.1875 + swing)),
                celsius(31.5),
                celsius(31.5),
                LIMITS,
                new Duty(0.4),
                heaterOn,
                Optional.of(true),
                Optional.empty(),
                GuardState.ALLOWING,
                List.of(),
                false);
    }

    public static Finding finding(FindingCode code, long raisedAtTick) {
        return new Finding(
                code,
                Optional.of(new ProbeName("top")),
                raisedAtTick * SECOND_NANOS,
                "top 33.10 °C, limit 32.50 °C",
                "heater held off",
                "look at the door and the fan");
    }

    /** The same snapshot with these findings. */
    public static CabinetSnapshot with(CabinetSnapshot base, List<Finding> findings) {
        return changed(base, base.setPoint(), base.guard(), findings, base.silenced());
    }

    /** The same snapshot with what commands change. */
    public static CabinetSnapshot changed(
            CabinetSnapshot base,
            Temperature setPoint,
            GuardState guard,
            List<Finding> findings,
            boolean silenced) {
        return new CabinetSnapshot(
                base.cabinet(),
                base.tick(),
                base.moment(),
                base.probes(),
                base.processValue(),
                setPoint,
                base.configuredSetPoint(),
                base.limits(),
                base.duty(),
                base.heaterOn(),
                base.cutOffRelayClosed(),
                base.fanOn(),
                guard,
                findings,
                silenced);
    }

    /** The same snapshot of another moment. */
    public static CabinetSnapshot at(CabinetSnapshot base, Moment moment) {
        return of(base, moment, base.probes());
    }

    /** The same snapshot with other probes. */
    public static CabinetSnapshot withProbes(CabinetSnapshot base, List<ProbeReading> probes) {
        return of(base, base.moment(), probes);
    }

    private static CabinetSnapshot of(
            CabinetSnapshot base, Moment moment, List<ProbeReading> probes) {
        return new CabinetSnapshot(
                base.cabinet(),
                base.tick(),
                moment,
                probes,
                base.processValue(),
                base.setPoint(),
                base.configuredSetPoint(),
                base.limits(),
                base.duty(),
                base.heaterOn(),
                base.cutOffRelayClosed(),
                base.fanOn(),
                base.guard(),
                base.findings(),
                base.silenced());
    }

    private static ProbeReading good(String name, ProbePlace place, double value, long sampled) {
        return new ProbeReading(
                new ProbeName(name), place, new Reading.Good(celsius(value), sampled));
    }
}
