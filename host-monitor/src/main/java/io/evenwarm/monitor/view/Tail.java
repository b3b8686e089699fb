package io.evenwarm.monitor.view;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeCurve.Unit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * The newest snapshots of one cabinet as curves: what history does not hold yet. Keeps at most
 * {@link #POINTS_MAX} and drops the oldest quarter when full; history has those by then.
 *
 * <p>Used by the window's worker only.
 */
final class Tail {

    static final int POINTS_MAX = 16_384;

    private static final int POINTS_AT_FIRST = 512;

    private long[] times = new long[POINTS_AT_FIRST];
    private int size;
    private final Column setPoint = new Column();
    private final Column heater = new Column();
    private final Map<ProbeName, ProbeColumn> probes = new LinkedHashMap<>();
    private @Nullable CabinetSnapshot newest;

    private static final class Column {
        private double[] values = new double[POINTS_AT_FIRST];
    }

    private static final class ProbeColumn {
        private final Column column = new Column();
        private ProbePlace place;
        private Unit unit = Unit.CELSIUS;

        ProbeColumn(ProbePlace place, int alreadyMissed) {
            this.place = place;
            if (column.values.length < alreadyMissed) {
                column.values = new double[alreadyMissed];
            }
            Arrays.fill(column.values, 0, alreadyMissed, Double.NaN);
        }
    }

    /** Takes a snapshot, unless it is the one that was taken last. */
    void add(CabinetSnapshot snapshot) {
        CabinetSnapshot before = newest;
        if (before != null
                && before.tick() == snapshot.tick()
                && before.moment().boot().equals(snapshot.moment().boot())) {
            return;
        }
        long time = snapshot.moment().wall().toEpochMilli();
        if (size > 0 && time <= times[size - 1]) {
            // The agent's clock was set back: what came before can't be put in order with what
            // comes now, and history will tell it.
            size = 0;
            probes.clear();
        }
        if (size == POINTS_MAX) {
            dropOldest(POINTS_MAX / 4);
        }
        newest = snapshot;
        times = grown(times, size);
        times[size] = time;
        put(setPoint, snapshot.setPoint().celsius());
        put(heater, snapshot.heaterOn() ? 1 : 0);
        putProbes(snapshot.probes());
        size++;
    }

    private void putProbes(List<ProbeReading> readings) {
        for (ProbeColumn probe : probes.values()) {
            put(probe.column, Double.NaN);
        }
        for (ProbeReading reading : readings) {
            ProbeColumn probe =
                    probes.computeIfAbsent(
                            reading.probe(), name -> new ProbeColumn(reading.place(), size));
            probe.place = reading.place();
            reading.reading()
                    .quantity()
                    .ifPresent(
                            quantity ->
                                    probe.unit =
                                            quantity.fold(
                                                    temperature -> Unit.CELSIUS,
                                                    humidity -> Unit.PERCENT_RELATIVE_HUMIDITY));
            // An uncertain value is shown in numbers with its doubt, but draws no line.
            double value =
                    reading.reading()
                            .fold(
                                    good ->
                                            good.value()
                                                    .<Double>fold(
                                                            its -> its.celsius(),
                                                            its -> its.percent()),
                                    uncertain -> Double.NaN,
                                    bad -> Double.NaN);
            put(probe.column, value);
        }
    }

    private void put(Column column, double value) {
        if (size >= column.values.length) {
            column.values = Arrays.copyOf(column.values, 2 * column.values.length);
        }
        column.values[size] = value;
    }

    private static long[] grown(long[] array, int needed) {
        return needed < array.length ? array : Arrays.copyOf(array, 2 * array.length);
    }

    private void dropOldest(int count) {
        size -= count;
        System.arraycopy(times, count, times, 0, size);
        List<Column> columns = new ArrayList<>(List.of(setPoint, heater));
        probes.values().forEach(probe -> columns.add(probe.column));
        for (Column column : columns) {
            System.arraycopy(column.values, count, column.values, 0, size);
        }
    }

    int size() {
        return size;
    }

    Curve setPoint() {
        return Curve.of(times, setPoint.values, size);
    }

    /** Whether the heater was on, 1 or 0. */
    Curve heater() {
        return Curve.of(times, heater.values, size);
    }

    /** Every probe of the newest snapshots, in configured order. */
    List<ProbeCurve> probes() {
        List<ProbeCurve> curves = new ArrayList<>();
        probes.forEach(
                (name, probe) ->
                        curves.add(
                                new ProbeCurve(
                                        name,
                                        probe.place,
                                        probe.unit,
                                        Curve.of(times, probe.column.values, size))));
        return curves;
    }
}
