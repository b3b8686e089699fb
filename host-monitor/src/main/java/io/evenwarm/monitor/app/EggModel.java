package io.evenwarm.monitor.app;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.CabinetSummaries;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.thermal.EggTrack;
import io.evenwarm.monitor.thermal.Outlook;
import io.evenwarm.monitor.thermal.Scenario;
import io.evenwarm.monitor.thermal.ThermalFacts;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.monitor.thermal.ThermalFitter;
import io.evenwarm.monitor.thermal.ThermalRecord;
import io.evenwarm.monitor.thermal.ThermalRecord.Channel;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** One cabinet's thermal model and what was read since it was fitted. For one thread. */
final class EggModel {

    /** More tells no more. */
    private static final Duration HISTORY = Duration.ofDays(14);

    private static final int RECENT_MINUTES = 2 * 24 * 60;

    /** A model that foretells its own held-out days worse than that is not used. No source. */
    static final double POOR_KELVIN = 0.5;

    private final CabinetKey key;
    private ThermalRecord.Builder record = new ThermalRecord.Builder(0);
    private Optional<ProbeName> coldest = Optional.empty();
    private Optional<ProbeName> warmest = Optional.empty();
    private Optional<ThermalFit> fit = Optional.empty();
    private EggTrack track = EggTrack.empty();
    private boolean wasWorkedOn;
    private String why = "too little of its history was read so far";

    EggModel(CabinetKey key) {
        this.key = key;
    }

    /**
     * What the model foretells from a moment on; the shorter ends of the intervals.
     *
     * @param from by the agent's wall clock
     * @param coldestCelsius eggs, as estimated
     * @param withFan until the coldest eggs are at the lower limit without heat, fan running
     * @param withoutFan the same in still air
     * @param stuck until the warmest eggs are at the ceiling under full heat
     * @param warmRoom the same without heat
     * @param heldOutKelvin how well held-out days were foretold
     */
    record Times(
            Instant from,
            double coldestCelsius,
            double withFan,
            double withoutFan,
            double stuck,
            double warmRoom,
            double heldOutKelvin) {}

    /** Reads the history up to a moment anew and fits the model to it. */
    void fit(HistoryQueries history, List<Tub> tubs, Instant now) {
        TimeSpan span = new TimeSpan(now.minus(HISTORY), now.plusMillis(1));
        List<ProbeSummaries> probes =
                history.summaries(key, span, Tier.MINUTE).stream()
                        .filter(probe -> probe.unit() == ProbeCurve.Unit.CELSIUS)
                        .toList();
        // Should reading fail, the old fit must not go on with a record that is not whole.
        fit = Optional.empty();
        track = EggTrack.empty();
        why = "its history could not be read";
        record = new ThermalRecord.Builder(Tier.MINUTE.beginMillis(span.from().toEpochMilli()));
        AirPlaces<ProbeSummaries> air =
                AirPlaces.of(
                        probes,
                        ProbeSummaries::place,
                        probe -> AirPlaces.mean(probe.summaries().size(), probe.summaries()::mean));
        coldest = air.coldest().map(ProbeSummaries::probe);
        warmest = air.warmest().map(ProbeSummaries::probe);
        for (ProbeSummaries probe : probes) {
            Summaries read = probe.summaries();
            for (int i = 0; i < read.size(); i++) {
                add(probe.probe(), probe.place(), read.beginMillis(i), read.mean(i));
            }
        }
        CabinetSummaries itself = history.cabinetSummaries(key, span, Tier.MINUTE);
        Summaries heater = itself.heaterOnFraction();
        for (int i = 0; i < heater.size(); i++) {
            record.add(Channel.DUTY, heater.beginMillis(i), heater.mean(i));
        }
        ThermalHistory.addLoadChanges(record, key, tubs, history.plannedWork(key, span), now);
        Optional<ThermalFit> found =
                ThermalFitter.fit(
                        record.build(),
                        new ThermalFacts(
                                ThermalHistory.loadKilograms(key, tubs),
                                OptionalDouble.empty(),
                                OptionalDouble.empty()));
        why = found.map(EggModel::whatIsPoor).orElse("it takes two days of air, room and heater");
        fit = why.isEmpty() ? found : Optional.empty();
    }

    private static String whatIsPoor(ThermalFit its) {
        if (its.heldOut().days() == 0) {
            return "it takes four days to see whether a model is good";
        }
        return its.heldOut().rootMeanSquareKelvin() <= POOR_KELVIN
                ? ""
                : "its model foretells its own days poorly";
    }

    private void add(ProbeName probe, ProbePlace place, long epochMillis, double celsius) {
        record.add(ThermalHistory.channel(place), epochMillis, celsius);
        if (coldest.equals(Optional.of(probe))) {
            record.add(Channel.COLDEST_AIR, epochMillis, celsius);
        }
        if (warmest.equals(Optional.of(probe))) {
            record.add(Channel.WARMEST_AIR, epochMillis, celsius);
        }
    }

    /** Why there is no model to go by; empty when there is one. */
    String why() {
        return why;
    }

    boolean isThere() {
        return fit.isPresent();
    }

    /** Adds what was read just now; without a model nothing is kept. */
    void add(CabinetSnapshot snapshot) {
        if (fit.isEmpty()) {
            return;
        }
        long millis = snapshot.moment().wall().toEpochMilli();
        for (ProbeReading probe : snapshot.probes()) {
            if (probe.reading() instanceof Reading.Good good
                    && good.value() instanceof Temperature temperature) {
                add(probe.probe(), probe.place(), millis, temperature.celsius());
            }
        }
        record.add(Channel.DUTY, millis, snapshot.heaterOn() ? 1 : 0);
        if (isFanOff(snapshot)) {
            record.fanOff(millis);
        }
        boolean isWorkedOn = snapshot.plannedWorkUntilNanos().isPresent();
        if (isWorkedOn && !wasWorkedOn) {
            record.loadChanged(millis);
        }
        wasWorkedOn = isWorkedOn;
    }

    static boolean isFanOff(CabinetSnapshot snapshot) {
        return snapshot.fanOn().equals(Optional.of(false))
                || snapshot.findings().stream()
                        .anyMatch(finding -> finding.code().equals(FindingCode.FAN_STOPPED));
    }

    /** How warm the eggs were up to what was added last; empty where there is no model. */
    EggTrack track() {
        if (fit.isEmpty()) {
            return EggTrack.empty();
        }
        if (track.size() == 0) {
            track = EggTrack.of(fit.get(), record.build());
        } else {
            track = track.then(EggTrack.of(fit.get(), record.build().last(RECENT_MINUTES)));
        }
        return track;
    }

    /** What it foretells from a snapshot on, which was added; empty where there is no model. */
    Optional<Times> times(CabinetSnapshot snapshot, double coldLimitCelsius) {
        return fit.map(
                its -> {
                    Outlook outlook = new Outlook(its, record.build().last(RECENT_MINUTES));
                    double ceiling = snapshot.limits().ceiling().celsius();
                    Outlook.Course cold = outlook.of(Scenario.running(Scenario.Heating.OFF));
                    return new Times(
                            snapshot.moment().wall(),
                            cold.coldestCelsius(0).likely(),
                            cold.secondsUntilColdAt(coldLimitCelsius).low(),
                            outlook.of(Scenario.mainsOff())
                                    .secondsUntilColdAt(coldLimitCelsius)
                                    .low(),
                            outlook.of(Scenario.running(Scenario.Heating.STUCK_ON))
                                    .secondsUntilWarmAt(ceiling)
                                    .low(),
                            cold.secondsUntilWarmAt(ceiling).low(),
                            its.heldOut().rootMeanSquareKelvin());
                });
    }
}
