package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.thermal.Gap;
import io.evenwarm.monitor.thermal.GapReview;
import io.evenwarm.monitor.thermal.Reconstruction;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.monitor.thermal.ThermalRecord;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What an outage came to, as far as it is known.
 *
 * @param coldest eggs on the coldest shelf from its begin to up to 6 h after its end; empty where
 *     nothing could be reconstructed
 * @param warmest the same on the warmest shelf
 * @param notKnown what is not known and why, a sentence each
 */
public record OutageReview(
        Outage outage,
        Optional<EggBand> coldest,
        Optional<EggBand> warmest,
        List<String> notKnown) {

    /** How far a measured room may have gone from what its readings before and after say, K. */
    private static final double MEASURED_ROOM_KELVIN = 4;

    /** A state needs some readings before the gap, min. */
    private static final int BEFORE_MINUTES = 60;

    public OutageReview {
        notKnown = List.copyOf(notKnown);
    }

    /**
     * Reviews an outage.
     *
     * @param record from a day before it, better two weeks, to up to 6 h after it
     * @param fit of the time before it; empty where the history is too short for one
     * @param assumedRoomKelvin half width of the room where no probe measures it, K; 0 where one
     *     does
     * @param isLoadChanged whether tubs came or went meanwhile
     */
    public static OutageReview of(
            Outage outage,
            ThermalRecord record,
            Optional<ThermalFit> fit,
            double assumedRoomKelvin,
            boolean isLoadChanged) {
        List<String> notKnown = new ArrayList<>();
        if (assumedRoomKelvin > 0) {
            notKnown.add(
                    "No probe measures the room: it is taken as the middle of what the settings"
                            + " assume, and the band is wide for that. A probe with place ambient"
                            + " would tell");
        }
        if (isLoadChanged) {
            notKnown.add(
                    "Tubs came or went in this time: what those had is not known, and the band is"
                            + " wider for that");
        }
        long from = outage.begin().likely().toEpochMilli();
        long to = outage.end().likely().toEpochMilli();
        boolean hasState = record.cell(from) >= BEFORE_MINUTES && record.cell(to) < record.size();
        if (outage.heat() == Outage.Heat.NOT_KNOWN) {
            notKnown.add(
                    "Whether the cabinet was heated is not known, so nothing is reconstructed");
        } else if (fit.isEmpty() || !hasState) {
            notKnown.add(
                    "What the eggs had is not known: the history before it is too short for a"
                            + " thermal model, which takes two days or more");
        } else {
            Reconstruction made =
                    GapReview.of(
                            fit.get(),
                            record,
                            new Gap(
                                    from,
                                    to,
                                    assumedRoomKelvin > 0
                                            ? assumedRoomKelvin
                                            : MEASURED_ROOM_KELVIN,
                                    isLoadChanged),
                            true);
            long open = outage.heat() == Outage.Heat.SOME ? to : 0;
            return new OutageReview(
                    outage,
                    Optional.of(new EggBand(made.coldest(), open)),
                    Optional.of(new EggBand(made.warmest(), open)),
                    notKnown);
        }
        return new OutageReview(outage, Optional.empty(), Optional.empty(), notKnown);
    }
}
