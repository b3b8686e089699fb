package io.evenwarm.monitor.evenness;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.stat.regression.SimpleRegression;

/**
 * Sees a fan that weakens, from the history of one cabinet.
 *
 * <p>What parts top and bottom is the heat that the fan has to carry, over the air that it moves:
 * {@code parting = a + b · duty / flow}, where a is the probes' own difference (trade fact, common
 * practice, no source: a growing gap between the top and the bottom thermometer means the fan,
 * since the fan is what keeps the cabinet uniform). For {@value #LEARNING_DAYS} quiet days the
 * watch learns a and b, by hours, with flow taken as 1. From then on a day's excess over {@code a +
 * b · duty}, divided by what is usual, goes into a {@link Cusum}. So seasons, which move the duty,
 * move nothing; a day counts by the median of its quiet stretches, so neither does a door; and the
 * sum counts each day for so little that a day or two of cold tubs can't call.
 *
 * <p>Known run lengths: k = {@value #REFERENCE}, a day counts for {@value #CAP} at most, and the
 * interval is the one with which independent normal days call falsely once in {@value
 * #FALSE_CALL_YEARS} years ({@link CusumRunLength}). Days are not independent, so what is usual is
 * never taken as less than {@value #USUAL_SHARE} of what the heat parts: a flow of 94 % is no
 * trouble. The simulated figures stand in docs/evidence.md.
 *
 * <p>A fan that stands still shows within half an hour, by {@value #STOPPED_STRETCHES} stretches.
 * The agent's own guard knows sooner; this is for agents that were not there.
 *
 * <p>After a new fan, or a shelf or probe that was moved, a new watch learns anew.
 *
 * <p>Fed by one thread, oldest first; keeps a few numbers and the days that it saw.
 */
public final class FanWatch {

    static final int LEARNING_DAYS = 14;
    static final double REFERENCE = 1;
    static final double CAP = 2.5;
    static final double FALSE_CALL_YEARS = 100;
    static final double USUAL_SHARE = 0.06;
    static final int STOPPED_STRETCHES = 3;

    /** Found once; the chart's constants are the same for every cabinet. */
    private static final double INTERVAL =
            new CusumRunLength(REFERENCE, CAP).interval(FALSE_CALL_YEARS * 365.25);

    private static final long DAY_MILLIS = 86_400_000;
    private static final long HOUR_MILLIS = 3_600_000;
    private static final int STRETCHES_A_DAY = (int) (DAY_MILLIS / AirStretch.LENGTH_MILLIS);

    /** Six quiet hours make a day. */
    private static final int QUIET_STRETCHES_MIN = 36;

    /** Air this far from where it usually is, is being disturbed; so is a heater on for good. */
    private static final double QUIET_KELVIN = 0.3;

    private static final double DISTURBED_KELVIN = 0.6;
    private static final double DISTURBED_DUTY = 0.95;

    /** What was in the cabinet comes back with it: common practice, no source. */
    private static final long CALM_AFTER_MILLIS = 3 * HOUR_MILLIS;

    /** Less than probes of 1/16 K can show, as the mean of a day. */
    private static final double LEAST_KELVIN = 0.02;

    private static final double STOPPED_KELVIN = 1.0;
    private static final double STOPPED_TIMES = 3;

    /** A look inside is no repair: an hour without the gap is. */
    private static final int RUNNING_STRETCHES = 6;

    private static final int RECENT_DAYS = 3;

    private final Cusum cusum = new Cusum(REFERENCE, CAP, INTERVAL);
    private final List<FanDay> days = new ArrayList<>();

    // The day that is being gathered.
    private long day = Long.MIN_VALUE;
    private final double[] partings = new double[STRETCHES_A_DAY];
    private final double[] duties = new double[STRETCHES_A_DAY];
    private final double[] offs = new double[STRETCHES_A_DAY];
    private int gathered;
    private long disturbedUntil = Long.MIN_VALUE;

    // What was learned.
    private int learnedDays;
    private final List<double[]> learning = new ArrayList<>();
    private SimpleRegression line = new SimpleRegression();
    private double intercept;
    private double slope;
    private double middleDuty;
    private double ofSlope;
    private double usual;
    private double usualOff;

    // What is.
    private final double[] recent = new double[RECENT_DAYS];
    private int recentCount;
    private long weakSince = Long.MIN_VALUE;
    private int stoppedStretches;
    private int runningStretches;
    private double stoppedKelvin;
    private long stoppedSince;

    /**
     * Takes the next ten minutes.
     *
     * @return what is known now
     */
    public FanState add(AirStretch stretch) {
        long its = Math.floorDiv(stretch.beginMillis(), DAY_MILLIS);
        if (its != day) {
            endDay();
            day = its;
        }
        double off = stretch.offKelvin() - usualOff;
        if (Math.abs(off) > DISTURBED_KELVIN || stretch.duty() >= DISTURBED_DUTY) {
            disturbedUntil = stretch.beginMillis() + CALM_AFTER_MILLIS;
        }
        boolean isQuiet =
                stretch.beginMillis() > disturbedUntil
                        && (isLearning() || Math.abs(off) <= QUIET_KELVIN);
        if (isQuiet && gathered < STRETCHES_A_DAY) {
            partings[gathered] = stretch.partingKelvin();
            duties[gathered] = stretch.duty();
            offs[gathered++] = stretch.offKelvin();
        }
        if (!isLearning()) {
            lookForStandstill(stretch, off);
        }
        return state();
    }

    /** The days since the cabinet was learned, oldest first. */
    public List<FanDay> days() {
        return List.copyOf(days);
    }

    private boolean isLearning() {
        return learnedDays < LEARNING_DAYS;
    }

    public FanState state() {
        if (isLearning()) {
            return new FanState.Learning(LEARNING_DAYS - learnedDays);
        }
        if (stoppedStretches >= STOPPED_STRETCHES) {
            return new FanState.Stopped(stoppedSince, stoppedKelvin);
        }
        double more = recentExcess();
        return weakSince != Long.MIN_VALUE
                ? new FanState.Weak(weakSince * DAY_MILLIS, flowShare(), more)
                : new FanState.Steady(flowShare());
    }

    private double recentExcess() {
        int count = Math.min(recentCount, RECENT_DAYS);
        double sum = 0;
        for (int i = 0; i < count; i++) {
            sum += recent[i];
        }
        return count == 0 ? 0 : sum / count;
    }

    /** {@code excess = b d (1/f − 1)}. */
    private double flowShare() {
        double heat = slope * middleDuty;
        return heat <= 0 ? 1 : Math.min(1.2, 1 / Math.max(0.2, 1 + recentExcess() / heat));
    }

    private void lookForStandstill(AirStretch stretch, double off) {
        double more = stretch.partingKelvin() - expected(stretch.duty());
        boolean standsStill =
                more > Math.max(STOPPED_KELVIN, STOPPED_TIMES * slope * middleDuty)
                        && Math.abs(off) <= DISTURBED_KELVIN;
        if (standsStill) {
            if (stoppedStretches == 0) {
                stoppedSince = stretch.beginMillis();
            }
            stoppedStretches++;
            runningStretches = 0;
            stoppedKelvin = more;
        } else if (stoppedStretches < STOPPED_STRETCHES
                || ++runningStretches >= RUNNING_STRETCHES) {
            stoppedStretches = 0;
            runningStretches = 0;
        }
    }

    private double expected(double duty) {
        return intercept + slope * duty;
    }

    private void endDay() {
        int count = gathered;
        gathered = 0;
        if (count < QUIET_STRETCHES_MIN) {
            return;
        }
        if (isLearning()) {
            learn(count);
            return;
        }
        double parting = Cells.median(partings, count);
        double duty = mean(duties, count);
        double[] excesses = new double[count];
        for (int i = 0; i < count; i++) {
            excesses[i] = partings[i] - expected(duty);
        }
        double excess = Cells.median(excesses, count);
        double known =
                Math.max(Math.max(usual, LEAST_KELVIN), USUAL_SHARE * Math.abs(slope) * duty);
        double extrapolated = ofSlope * (duty - middleDuty);
        boolean wasCalling = cusum.isCalling();
        boolean isCalling = cusum.add(excess / Math.hypot(known, extrapolated));
        if (isCalling && !wasCalling) {
            weakSince = day;
        } else if (!isCalling && cusum.sum() == 0) {
            weakSince = Long.MIN_VALUE;
        }
        // In units of what the middle duty parts, so that days of unlike duty can be averaged.
        recent[recentCount++ % RECENT_DAYS] = excess * middleDuty / Math.max(duty, 0.01);
        days.add(new FanDay(day * DAY_MILLIS, parting, expected(duty), cusum.sum() / INTERVAL));
    }

    private static double mean(double[] values, int count) {
        return Arrays.stream(values, 0, count).average().orElse(0);
    }

    private void learn(int count) {
        int hour = (int) (HOUR_MILLIS / AirStretch.LENGTH_MILLIS);
        for (int i = 0; i + hour <= count; i += hour) {
            double duty = 0;
            double parting = 0;
            for (int j = i; j < i + hour; j++) {
                duty += duties[j] / hour;
                parting += partings[j] / hour;
            }
            line.addData(duty, parting);
        }
        learning.add(
                new double[] {
                    Cells.median(partings, count), mean(duties, count), Cells.median(offs, count)
                });
        if (++learnedDays == LEARNING_DAYS) {
            finishLearning();
        }
    }

    private void finishLearning() {
        double parting = 0;
        double[] daily = new double[LEARNING_DAYS];
        for (int i = 0; i < LEARNING_DAYS; i++) {
            parting += learning.get(i)[0] / LEARNING_DAYS;
            middleDuty += learning.get(i)[1] / LEARNING_DAYS;
            daily[i] = learning.get(i)[2];
        }
        usualOff = Cells.median(daily, LEARNING_DAYS);
        double proportion = parting / Math.max(middleDuty, 0.01);
        // Hours are not independent: the slope is known three times less well than they say.
        double measured = 3 * line.getSlopeStdErr();
        boolean isMeasured =
                line.getSlope() > 0 && measured < ProbeQuality.rectangular(Math.abs(proportion));
        slope = isMeasured ? line.getSlope() : Math.max(0, proportion);
        ofSlope = isMeasured ? measured : ProbeQuality.rectangular(Math.abs(proportion));
        intercept = parting - slope * middleDuty;
        double squares = 0;
        for (double[] of : learning) {
            double left = of[0] - expected(of[1]);
            squares += left * left / (LEARNING_DAYS - 2);
        }
        usual = Math.sqrt(squares);
        learning.clear();
        line = new SimpleRegression();
    }
}
