package io.evenwarm.monitor.evenness;

import java.util.ArrayList;
import java.util.List;

/** Offsets of a table's probes, in force at a time: asked of each stretch, so found fast. */
final class Offsets {

    private final List<List<ProbeEntry>> entries = new ArrayList<>();

    Offsets(ProbeRecord record, AirTable table) {
        for (int i = 0; i < table.probes(); i++) {
            entries.add(record.of(table.key(), table.probe(i)));
        }
    }

    /** What is to be added to what a probe reads at a time, K. */
    double at(int probe, long epochMillis) {
        double offset = 0;
        for (ProbeEntry entry : entries.get(probe)) {
            if (entry.at().toEpochMilli() > epochMillis) {
                break;
            }
            offset = entry.offset().map(Estimate::value).orElse(0.0);
        }
        return offset;
    }
}
