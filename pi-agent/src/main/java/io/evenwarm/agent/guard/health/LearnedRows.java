package io.evenwarm.agent.guard.health;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Goes through all that is learned, either to write it down or to take it back: one way for both,
 * so that nothing is kept that is not taken back. Each class that learns hands in what it knows by
 * name, and takes for it what comes back.
 */
public final class LearnedRows {

    private final SortedMap<String, List<Double>> rows;
    private final boolean isWriting;
    private final String prefix;

    private LearnedRows(SortedMap<String, List<Double>> rows, boolean isWriting, String prefix) {
        this.rows = rows;
        this.isWriting = isWriting;
        this.prefix = prefix;
    }

    /** Writes down; {@link #rows} has it afterwards. */
    public static LearnedRows writing() {
        return new LearnedRows(new TreeMap<>(), true, "");
    }

    /** Takes back. */
    public static LearnedRows reading(SortedMap<String, List<Double>> rows) {
        return new LearnedRows(rows, false, "");
    }

    /** The same with names that begin with this and a dot. */
    public LearnedRows of(String part) {
        return new LearnedRows(rows, isWriting, prefix + part + '.');
    }

    /** Whether it takes back, so that what begins anew with that does. */
    public boolean isReading() {
        return !isWriting;
    }

    /** What was written down. */
    public SortedMap<String, List<Double>> rows() {
        return rows;
    }

    /** Whether all that was written down are finite numbers. */
    public boolean areFinite() {
        for (Map.Entry<String, List<Double>> row : rows.entrySet()) {
            for (double number : row.getValue()) {
                if (!Double.isFinite(number)) {
                    return false;
                }
            }
        }
        return true;
    }

    /**
     * One number.
     *
     * @param now what it is
     * @return what it is to be
     * @throws IllegalArgumentException when it is not there to be taken back
     */
    public double number(String name, double now) {
        double[] one = {now};
        numbers(name, one);
        return one[0];
    }

    /**
     * One number that files of an earlier agent do not have.
     *
     * @param now what it is
     * @param otherwise what it is to be when it is not there to be taken back
     */
    public double numberIfKept(String name, double now, double otherwise) {
        return isWriting || rows.containsKey(prefix + name) ? number(name, now) : otherwise;
    }

    /**
     * A count.
     *
     * @param most that it may be; at least it is {@code least}
     */
    int count(String name, int now, int least, int most) {
        double number = number(name, now);
        if (number < least || number > most || number != StrictMath.rint(number)) {
            throw new IllegalArgumentException(
                    prefix + name + " must be " + least + " to " + most + " but is " + number);
        }
        return (int) number;
    }

    /** Whether something holds. */
    boolean flag(String name, boolean now) {
        return count(name, now ? 1 : 0, 0, 1) == 1;
    }

    /** A row of numbers, which is overwritten by what is taken back. */
    void numbers(String name, double[] values) {
        String key = prefix + name;
        if (isWriting) {
            List<Double> written = new ArrayList<>();
            for (double value : values) {
                written.add(value);
            }
            rows.put(key, written);
            return;
        }
        List<Double> kept = rows.get(key);
        if (kept == null || kept.size() != values.length) {
            throw new IllegalArgumentException(
                    "expected "
                            + values.length
                            + " numbers of "
                            + key
                            + " but found "
                            + (kept == null ? "none" : kept.size()));
        }
        for (int i = 0; i < values.length; i++) {
            values[i] = kept.get(i);
        }
    }
}
