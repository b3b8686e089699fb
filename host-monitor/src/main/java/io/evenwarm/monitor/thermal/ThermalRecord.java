package io.evenwarm.monitor.thermal;

import java.util.Arrays;
import java.util.BitSet;
import java.util.EnumMap;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * What was measured in a cabinet, as means of whole minutes. NaN where nothing was. Immutable.
 *
 * <p>A record that goes on is built on with {@link Builder}; its minutes are counted from its begin
 * and hold every reading that fell into them.
 */
public final class ThermalRecord {

    /** Seconds that a cell stands for. */
    public static final int CELL_SECONDS = 60;

    /** Two years: more is not one cabinet any longer. */
    private static final int CELLS_MAX = 2 * 366 * 1440;

    private static final long CELL_MILLIS = CELL_SECONDS * 1000L;

    private final long beginMillis;
    private final double[] air;
    private final double[] coldestAir;
    private final double[] warmestAir;
    private final double[] tub;
    private final double[] room;
    private final double[] duty;
    private final boolean[] isFanOff;
    private final int[] loadChanges;

    private ThermalRecord(Builder from) {
        int cells = from.size;
        beginMillis = from.beginMillis;
        air = from.mean(Channel.AIR, cells);
        coldestAir = from.mean(Channel.COLDEST_AIR, cells);
        warmestAir = from.mean(Channel.WARMEST_AIR, cells);
        tub = from.mean(Channel.TUB, cells);
        room = from.mean(Channel.ROOM, cells);
        duty = from.mean(Channel.DUTY, cells);
        isFanOff = new boolean[cells];
        from.fanOff.stream().forEach(cell -> isFanOff[cell] = true);
        loadChanges =
                from.loadChanges.stream()
                        .mapToInt(Integer::intValue)
                        .filter(cell -> cell < cells)
                        .toArray();
    }

    private ThermalRecord(ThermalRecord of, int from, int to) {
        beginMillis = of.millis(from);
        air = Arrays.copyOfRange(of.air, from, to);
        coldestAir = Arrays.copyOfRange(of.coldestAir, from, to);
        warmestAir = Arrays.copyOfRange(of.warmestAir, from, to);
        tub = Arrays.copyOfRange(of.tub, from, to);
        room = Arrays.copyOfRange(of.room, from, to);
        duty = Arrays.copyOfRange(of.duty, from, to);
        isFanOff = Arrays.copyOfRange(of.isFanOff, from, to);
        loadChanges =
                Arrays.stream(of.loadChanges)
                        .filter(cell -> cell >= from && cell < to)
                        .map(cell -> cell - from)
                        .toArray();
    }

    /** What is measured. */
    public enum Channel {
        /** Mean of all believed probes in the air, °C. */
        AIR,
        /** Of the place that is usually coldest, °C; for the eggs there. */
        COLDEST_AIR,
        /** Of the place that is usually warmest, °C. */
        WARMEST_AIR,
        /** A probe among the eggs, °C. */
        TUB,
        /** The room around the cabinet, °C. */
        ROOM,
        /** Share of the time that the heater was on, 0 to 1. */
        DUTY
    }

    public int size() {
        return air.length;
    }

    /** Its first cells. */
    ThermalRecord first(int cells) {
        return new ThermalRecord(this, 0, Math.min(cells, size()));
    }

    /** Its last cells. */
    public ThermalRecord last(int cells) {
        return new ThermalRecord(this, Math.max(0, size() - cells), size());
    }

    /** Begin of a cell, milliseconds since the epoch. */
    public long millis(int cell) {
        return beginMillis + cell * CELL_MILLIS;
    }

    /** The cell that a moment falls into; may lie outside of the record. */
    public int cell(long epochMillis) {
        return (int) Math.floorDiv(epochMillis - beginMillis, CELL_MILLIS);
    }

    double air(int cell) {
        return air[cell];
    }

    double coldestAir(int cell) {
        return coldestAir[cell];
    }

    double warmestAir(int cell) {
        return warmestAir[cell];
    }

    double tub(int cell) {
        return tub[cell];
    }

    double room(int cell) {
        return room[cell];
    }

    double duty(int cell) {
        return duty[cell];
    }

    boolean isFanOff(int cell) {
        return isFanOff[cell];
    }

    /** Cells in which tubs were taken out or put in, in order. */
    int[] loadChanges() {
        return loadChanges.clone();
    }

    /** Collects readings in any order. For one thread. */
    public static final class Builder {

        private final long beginMillis;
        private final Map<Channel, Means> channels = new EnumMap<>(Channel.class);
        private final Set<Integer> loadChanges = new TreeSet<>();
        private final BitSet fanOff = new BitSet();
        private int size;

        /**
         * @param beginMillis begin of the first cell, milliseconds since the epoch
         */
        public Builder(long beginMillis) {
            this.beginMillis = beginMillis;
        }

        /** Adds one reading; one from before the begin, or that is not a number, is left out. */
        public void add(Channel channel, long epochMillis, double value) {
            int cell = reach(epochMillis);
            if (cell >= 0 && Double.isFinite(value)) {
                channels.computeIfAbsent(channel, any -> new Means()).add(cell, value);
            }
        }

        /** The fan stood still in this cell. */
        public void fanOff(long epochMillis) {
            int cell = reach(epochMillis);
            if (cell >= 0) {
                fanOff.set(cell);
            }
        }

        /** Tubs were taken out or put in. */
        public void loadChanged(long epochMillis) {
            int cell = reach(epochMillis);
            if (cell >= 0) {
                loadChanges.add(cell);
            }
        }

        public ThermalRecord build() {
            return new ThermalRecord(this);
        }

        private int reach(long epochMillis) {
            long cell = Math.floorDiv(epochMillis - beginMillis, CELL_MILLIS);
            if (cell < 0) {
                return -1;
            }
            if (cell >= CELLS_MAX) {
                throw new IllegalArgumentException(
                        "a record must not be longer than "
                                + CELLS_MAX
                                + " min but a reading came after "
                                + cell);
            }
            size = Math.max(size, (int) cell + 1);
            return (int) cell;
        }

        private double[] mean(Channel channel, int cells) {
            return channels.getOrDefault(channel, new Means()).of(cells);
        }
    }

    /** Means by cell. */
    private static final class Means {

        private double[] sums = new double[1024];
        private int[] counts = new int[1024];

        void add(int cell, double value) {
            if (cell >= sums.length) {
                int room = Math.max(cell + 1, 2 * sums.length);
                sums = Arrays.copyOf(sums, room);
                counts = Arrays.copyOf(counts, room);
            }
            sums[cell] += value;
            counts[cell]++;
        }

        double[] of(int cells) {
            double[] means = new double[cells];
            for (int i = 0; i < cells; i++) {
                boolean isThere = i < counts.length && counts[i] > 0;
                means[i] = isThere ? sums[i] / counts[i] : Double.NaN;
            }
            return means;
        }
    }
}
