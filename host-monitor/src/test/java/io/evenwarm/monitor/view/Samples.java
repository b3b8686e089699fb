package io.evenwarm.monitor.view;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Snapshots for tests of the view's plain parts. */
final class Samples {

    static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), new CabinetName("north"));
    static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    static final BootId BOOT = new BootId(UUID.fromString("00000000-0000-4000-8000-000000000002"));

    private Samples() {}

    static ProbeReading good(String place, double celsius, long sampledAtNanos) {
        return new ProbeReading(
                new ProbeName(place),
                ProbePlace.of(place),
                new Reading.Good(Temperature.ofCelsius(celsius), sampledAtNanos));
    }

    static Finding finding(FindingCode code, long raisedAtNanos) {
        return new Finding(
                code,
                Optional.empty(),
                raisedAtNanos,
                "air at 33.1 °C, above 32.5 °C.",
                "heater off.",
                "open the door.");
    }

    /** At {@code tick} seconds after noon, with a monotonic clock that says the same. */
    static CabinetSnapshot snapshot(
            long tick,
            List<ProbeReading> probes,
            Optional<Double> processValue,
            GuardState guard,
            List<Finding> findings) {
        return new CabinetSnapshot(
                NORTH.cabinet(),
                tick,
                new Moment(BOOT, tick * 1_000_000_000L, NOON.plusSeconds(tick), true),
                probes,
                processValue.map(Temperature::ofCelsius),
                Temperature.ofCelsius(31.5),
                Temperature.ofCelsius(31.5),
                InventedCabinets.limits(31.5),
                Duty.ofFraction(0.36),
                true,
                Optional.of(true),
                Optional.empty(),
                guard,
                findings,
                false);
    }

    static CabinetSnapshot calm(long tick) {
        return snapshot(
                tick,
                List.of(good("top", 31.6, tick * 1_000_000_000L - 800_000_000L)),
                Optional.of(31.5),
                GuardState.ALLOWING,
                List.of());
    }

    static LiveCabinet live(CabinetSnapshot snapshot, Liveness liveness, Duration since) {
        return new LiveCabinet(NORTH, snapshot, liveness, since, 1);
    }
}
