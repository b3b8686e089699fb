package io.evenwarm.monitor.evenness;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;

/**
 * Sees two thermometers of one place that read further apart than both can be off, for {@value
 * #LASTING_MINUTES} minutes and longer.
 */
final class SamePlace {

    static final int LASTING_MINUTES = 120;

    private static final long DAY_MILLIS = 86_400_000;

    private final ProbeRecord record;
    private final Map<String, Pair> pairs = new LinkedHashMap<>();

    /** What is known of two of them. */
    private static final class Pair {
        private long day = Long.MIN_VALUE;
        private Optional<Disagreement> rule = Optional.empty();
        private OptionalLong since = OptionalLong.empty();
        private double apart;
    }

    SamePlace(ProbeRecord record) {
        this.record = record;
    }

    /** Takes what came next; the pairs that disagree at its end. */
    List<ProbeAstray> add(AirTable table) {
        List<ProbeAstray> astray = new ArrayList<>();
        Offsets offsets = new Offsets(record, table);
        for (int one = 0; one < table.probes(); one++) {
            for (int two = one + 1; two < table.probes(); two++) {
                boolean isOneProbe = table.probe(one).equals(table.probe(two));
                if (!isOneProbe && table.place(one).equals(table.place(two))) {
                    Pair pair =
                            pairs.computeIfAbsent(
                                    table.probe(one) + " " + table.probe(two), key -> new Pair());
                    look(table, offsets, one, two, pair);
                    if (pair.since.isPresent()) {
                        astray.add(
                                new ProbeAstray(
                                        table.probe(one),
                                        Optional.of(table.probe(two)),
                                        pair.since.getAsLong(),
                                        pair.apart,
                                        pair.rule.orElseThrow().allowed()));
                    }
                }
            }
        }
        return astray;
    }

    private void look(AirTable table, Offsets offsets, int one, int two, Pair pair) {
        for (int slot = 0; slot < table.size(); slot++) {
            long begin = table.beginMillis(slot);
            long day = Math.floorDiv(begin, DAY_MILLIS);
            // What is not certain grows as the checks grow old.
            if (day != pair.day && pair.since.isEmpty()) {
                pair.rule =
                        Optional.of(
                                new Disagreement(
                                        quality(table, one, begin),
                                        quality(table, two, begin),
                                        0,
                                        LASTING_MINUTES * 60_000L));
            }
            pair.day = day;
            double first = table.celsius(one, slot) + offsets.at(one, begin);
            double second = table.celsius(two, slot) + offsets.at(two, begin);
            pair.since = pair.rule.orElseThrow().add(begin, first, second);
            if (!Double.isNaN(first - second)) {
                pair.apart = first - second;
            }
        }
    }

    private ProbeQuality quality(AirTable table, int probe, long epochMillis) {
        return record.trust(table.key(), table.probe(probe), Instant.ofEpochMilli(epochMillis))
                .quality();
    }
}
