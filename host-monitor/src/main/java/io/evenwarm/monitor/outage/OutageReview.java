package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.thermal.EggCurve;
import io.evenwarm.monitor.thermal.EggTrack;
import io.evenwarm.monitor.thermal.Gap;
import io.evenwarm.monitor.thermal.GapReview;
import io.evenwarm.monitor.thermal.Reconstruction;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.monitor.thermal.ThermalRecord;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * What an outage came to, as far as it is known.
 *
 * @param coldest eggs on the coldest shelf from its begin to up to 6 h after its end; empty where
 *     nothing could be reconstructed
 * @param warmest the same on the warmest shelf
 * @param tubs the same of each tub, for as long as it stood there
 * @param notKnown what is not known and why, a sentence each; where there is no most likely curve,
 *     the first says why
 */
public record OutageReview(
        Outage outage,
        Optional<EggBand> coldest,
        Optional<EggBand> warmest,
        List<TubExposure> tubs,
        List<String> notKnown) {

    /** How far a measured room may have gone from what its readings before and after say, K. */
    private static final double MEASURED_ROOM_KELVIN = 4;

    private static final String RAN_UNREAD =
            "The cabinet may have been heated for some of that time, for how long is not known: the"
                    + " agent started more than once, or long before the first reading that there"
                    + " is, so the mains was back in between";

    private static final String WARMER =
            "The cabinet may have been heated for some of that time, for how long is not known: what"
                    + " was read after it is warmer than a cabinet without heat gets. While the agent"
                    + " does not run its outputs are off; but the mains may have been back earlier"
                    + " and the agent have run for a time of which the readings are lost, a relay"
                    + " may stick closed, or the room was warmer than it is taken to be";

    private static final String COLDER =
            "What was read after it is colder than this cabinet gets in that time, by its thermal"
                    + " model, so nothing is reconstructed: a door may have stood open, or the room"
                    + " was colder than it is taken to be";

    private static final String COLD_TUBS = ", or the tubs that came in this time were cold";

    private static final String CLOCK_NOT_SET =
            "The agent's clock had not been set when it began, or has not been since it ended, so"
                    + " how long it lasted is not known, and nothing is reconstructed. A monitor"
                    + " that reaches the agent while it runs sets its clock, and so does a network's"
                    + " time";

    /** So long after the end the eggs follow what it brought. */
    private static final Duration AFTER = Duration.ofHours(6);

    /** A state needs some readings before the gap, min. */
    private static final int BEFORE_MINUTES = 60;

    public OutageReview {
        tubs = List.copyOf(tubs);
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
     * @param tubs that stood there during any of it
     */
    public static OutageReview of(
            Outage outage,
            ThermalRecord record,
            Optional<ThermalFit> fit,
            double assumedRoomKelvin,
            boolean isLoadChanged,
            List<TubPlace> tubs) {
        Optional<String> unable = unable(outage, record, fit);
        if (unable.isPresent()) {
            return nothing(outage, tubs, unable.get());
        }
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
        Gap gap =
                new Gap(
                        outage.begin().likely().toEpochMilli(),
                        outage.end().likely().toEpochMilli(),
                        assumedRoomKelvin > 0 ? assumedRoomKelvin : MEASURED_ROOM_KELVIN,
                        assumedRoomKelvin <= 0,
                        isLoadChanged);
        Reconstruction made = GapReview.of(fit.orElseThrow(), record, gap, true);
        if (made.after() == Reconstruction.After.COLDER) {
            return nothing(outage, tubs, isLoadChanged ? COLDER + COLD_TUBS : COLDER);
        }
        Reconstruction withoutEdge = GapReview.of(fit.orElseThrow(), record, gap, false);
        boolean isOpen =
                outage.heat() == Outage.Heat.SOME || made.after() == Reconstruction.After.WARMER;
        if (isOpen) {
            notKnown.add(0, outage.heat() == Outage.Heat.SOME ? RAN_UNREAD : WARMER);
        }
        return told(
                outage,
                curves ->
                        isOpen
                                ? EggBand.open(curves.apply(withoutEdge))
                                : band(curves.apply(made), curves.apply(withoutEdge), made, gap),
                tubs,
                notKnown);
    }

    /**
     * Reviews a time of which there are readings: what the eggs had is estimated from the air.
     *
     * @param track from a day before it to up to 6 h after it
     * @param shelves how warm they were beside the mean
     * @param tubs that stood there during any of it
     */
    public static OutageReview ofReadings(
            Outage outage, EggTrack track, ShelfAir shelves, List<TubPlace> tubs) {
        Instant from = outage.begin().earliest();
        Instant to = outage.end().latest().plus(AFTER);
        Optional<EggBand> coldest = EggBand.of(track, shelves.coldestKelvin(), from, to);
        Optional<EggBand> warmest = EggBand.of(track, shelves.warmestKelvin(), from, to);
        if (coldest.isEmpty() || warmest.isEmpty()) {
            return nothing(
                    outage,
                    tubs,
                    "The history around it is too short for a thermal model, which takes two days"
                            + " or more, or no air was read");
        }
        List<TubExposure> exposures = new ArrayList<>();
        for (TubPlace place : tubs) {
            Instant came = place.tub().from().isAfter(from) ? place.tub().from() : from;
            exposures.add(
                    new TubExposure(
                            place.tub(),
                            EggBand.of(track, place.aboveMeanKelvin().orElse(0), came, to)
                                    .map(
                                            eggs ->
                                                    eggs.between(
                                                            came,
                                                            place.tub().to().orElse(Instant.MAX)))
                                    .filter(eggs -> eggs.size() > 0),
                            place.aboveMeanKelvin().isPresent()));
        }
        return new OutageReview(outage, coldest, warmest, exposures, List.of());
    }

    /** Makes a band of the same curve of reconstructions. */
    private interface Bands {
        EggBand of(Function<Reconstruction, EggCurve> curve);
    }

    private static OutageReview told(
            Outage outage, Bands bands, List<TubPlace> tubs, List<String> notKnown) {
        EggBand coldest = bands.of(Reconstruction::coldest);
        EggBand warmest = bands.of(Reconstruction::warmest);
        List<TubExposure> exposures = new ArrayList<>();
        for (TubPlace place : tubs) {
            double above = place.aboveMeanKelvin().orElse(0);
            boolean isShelfKnown = place.aboveMeanKelvin().isPresent();
            EggBand there = bands.of(made -> made.eggs(above));
            EggBand band =
                    (isShelfKnown ? there : there.widenedTo(coldest, warmest))
                            .between(place.tub().from(), place.tub().to().orElse(Instant.MAX));
            exposures.add(
                    new TubExposure(
                            place.tub(),
                            Optional.of(band).filter(some -> some.size() > 0),
                            isShelfKnown));
        }
        return new OutageReview(
                outage, Optional.of(coldest), Optional.of(warmest), exposures, notKnown);
    }

    /** Where a warm reading may be of the room or of heat, the eggs may have been colder too. */
    private static EggBand band(
            EggCurve likely, EggCurve withoutEdge, Reconstruction made, Gap gap) {
        boolean isWarm = made.after() == Reconstruction.After.RATHER_WARM;
        return isWarm || !gap.isRoomMeasured()
                ? EggBand.of(likely, withoutEdge, isWarm)
                : EggBand.of(likely);
    }

    private static OutageReview nothing(Outage outage, List<TubPlace> tubs, String why) {
        return new OutageReview(
                outage,
                Optional.empty(),
                Optional.empty(),
                tubs.stream()
                        .map(
                                place ->
                                        new TubExposure(
                                                place.tub(),
                                                Optional.empty(),
                                                place.aboveMeanKelvin().isPresent()))
                        .toList(),
                List.of(why));
    }

    /** Whether an outage is one that can be reconstructed with a fit, and a fit worth its time. */
    public static boolean isWithinReach(Outage outage) {
        return outage.heat() != Outage.Heat.NOT_KNOWN
                && isLengthKnown(outage)
                && length(outage).compareTo(Gap.LONGEST) <= 0;
    }

    private static boolean isLengthKnown(Outage outage) {
        return outage.begin().isClockSet() && outage.end().isClockSet();
    }

    private static Duration length(Outage outage) {
        return Duration.between(outage.begin().likely(), outage.end().likely());
    }

    private static Optional<String> unable(
            Outage outage, ThermalRecord record, Optional<ThermalFit> fit) {
        if (!isLengthKnown(outage)) {
            return Optional.of(CLOCK_NOT_SET);
        }
        if (length(outage).compareTo(Gap.LONGEST) > 0) {
            return Optional.of(
                    "It lasted "
                            + length(outage).toHours()
                            + " h, and what is reconstructed was checked for up to "
                            + Gap.LONGEST.toHours()
                            + " h only: after longer ones the readings do not tell whether there"
                            + " was heat in between. A logger of its own among the eggs, on a"
                            + " battery, would be needed");
        }
        if (outage.heat() == Outage.Heat.NOT_KNOWN) {
            return Optional.of(
                    "Whether the cabinet was heated is not known, so nothing is reconstructed");
        }
        boolean hasState =
                record.cell(outage.begin().likely().toEpochMilli()) >= BEFORE_MINUTES
                        && record.cell(outage.end().likely().toEpochMilli()) < record.size();
        return fit.isPresent() && hasState
                ? Optional.empty()
                : Optional.of(
                        "What the eggs had is not known: the history before it is too short for a"
                                + " thermal model, which takes two days or more");
    }
}
