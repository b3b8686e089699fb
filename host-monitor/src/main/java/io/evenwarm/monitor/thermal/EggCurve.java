package io.evenwarm.monitor.thermal;

/**
 * What the coldest eggs are taken to have had, minute by minute, as a reconstruction: none of it
 * was measured. Immutable.
 */
public final class EggCurve {

    private final long beginMillis;
    private final double[] celsius;
    private final double[] plusMinus;

    EggCurve(long beginMillis, double[] celsius, double[] plusMinus) {
        this.beginMillis = beginMillis;
        this.celsius = celsius.clone();
        this.plusMinus = plusMinus.clone();
    }

    public int size() {
        return celsius.length;
    }

    /** Milliseconds since the epoch. */
    public long epochMillis(int index) {
        return beginMillis + index * stepMillis();
    }

    /** Time that each point stands for, ms. */
    public long stepMillis() {
        return 1000L * ThermalRecord.CELL_SECONDS;
    }

    public double celsius(int index) {
        return celsius[index];
    }

    /** Half width of the 95 % band, K. */
    public double plusMinus(int index) {
        return plusMinus[index];
    }

    /** Index of the coldest. */
    public int coldest() {
        int coldest = 0;
        for (int i = 1; i < celsius.length; i++) {
            coldest = celsius[i] < celsius[coldest] ? i : coldest;
        }
        return coldest;
    }

    /** Time below a limit, h. */
    public double hoursBelow(double limitCelsius) {
        double minutes = 0;
        for (double value : celsius) {
            minutes += value < limitCelsius ? 1 : 0;
        }
        return minutes / 60;
    }

    /** Area below a limit, K·h. */
    public double degreeHoursBelow(double limitCelsius) {
        double sum = 0;
        for (double value : celsius) {
            sum += Math.max(0, limitCelsius - value);
        }
        return sum / 60;
    }
}
