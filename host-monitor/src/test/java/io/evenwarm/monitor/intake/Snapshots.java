package io.evenwarm.monitor.intake;

import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Snapshots made by hand. */
final class Snapshots {

    private Snapshots() {}

    static CabinetSnapshot of(String cabinet, long tick) {
        Temperature set = Temperature.ofCelsius(31.5);
        Temperature air = Temperature.ofCelsius(31.4375);
        return new CabinetSnapshot(
                new CabinetName(cabinet),
                tick,
                new Moment(
                        new BootId(new UUID(1, 1)),
                        tick * 1_000_000_000L,
                        Journal.at((double) tick),
                        true),
                List.of(
                        new ProbeReading(
                                new ProbeName("top"),
                                ProbePlace.TOP,
                                new Reading.Good(air, tick * 1_000_000_000L))),
                Optional.of(air),
                set,
                set,
                Journal.LIMITS,
                Duty.ofFraction(0.25),
                true,
                Optional.of(true),
                Optional.empty(),
                GuardState.ALLOWING,
                List.of(),
                false);
    }
}
