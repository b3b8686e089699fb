package io.evenwarm.agent.reading;

import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading;
import io.evenwarm.message.Reading.Doubt;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;

/**
 * Makes one probe's samples into readings. Keeps what it needs of the probe's past: one instance a
 * probe.
 *
 * <p>Called by the control thread only.
 *
 * <p>How a sample is judged, in this order:
 *
 * <ol>
 *   <li>no number, another unit than the sensor's, NaN or infinite: rejected;
 *   <li>exactly 85 °C from a DS18B20: rejected as its power-on value [1], which no cabinet reaches;
 *   <li>outside {@value #MIN_CELSIUS} to {@value #MAX_CELSIUS} °C, or a humidity more than {@value
 *       #HUMIDITY_EXCESS_PERCENT} % beyond 0 to 100 %: rejected;
 *   <li>further from the last good value than {@value #MAX_KELVIN_PER_SECOND} K/s allows:
 *       uncertain, until {@value #CONFIRMING_SAMPLES} samples in a row agree on the new place, so
 *       that a probe that really moved comes back;
 *   <li>else good.
 * </ol>
 *
 * <p><b>A rejected sample does not undo a good one:</b> one wrong checksum in a long cable is an
 * everyday thing. The reading before it stands, with its own time, until it is older than {@code
 * staleAfterSeconds}; then the reading is bad for the newest sample's reason, or stale when nothing
 * comes at all.
 *
 * <p>[1] Linux {@code Documentation/w1/slaves/w1_therm.rst}, "features"; DS18B20 data sheet, table
 * 1: the power-on reset value of the temperature register is +85 °C.
 */
public final class SampleCheck {

    /** No room that holds eggs is colder. */
    static final double MIN_CELSIUS = -30;

    /**
     * No cabinet comes near it without having passed its cut-off long before: a number above is a
     * broken sensor's.
     */
    static final double MAX_CELSIUS = 70;

    /**
     * A probe of 15 s time constant that falls from a cabinet into a room 15 K colder starts with 1
     * K/s; air moved by an opened door reaches the probe no faster. (Derived, no source.)
     */
    static final double MAX_KELVIN_PER_SECOND = 1.0;

    /** For rounding (DS18B20: 1/16 K) and noise, whatever the time between two samples. */
    static final double JUMP_ALLOWANCE_KELVIN = 0.5;

    /** However long ago the last good value was, a step beyond this must be confirmed. */
    static final double MAX_UNCONFIRMED_STEP_KELVIN = 5.0;

    static final int CONFIRMING_SAMPLES = 3;

    /** Sensors overshoot their scale's ends a little; that much is taken as the end itself. */
    static final double HUMIDITY_EXCESS_PERCENT = 2;

    static final double POWER_ON_CELSIUS = 85.0;

    private static final double NANOS_PER_SECOND = 1e9;
    private static final Sample NOTHING_SEEN = new Sample.NotYet(0);

    private final ProbePlan plan;
    private final long staleAfterNanos;

    private Sample newest = NOTHING_SEEN;
    private long newestAtNanos;
    private boolean isNewestRejected;
    private Doubt newestDoubt = Doubt.NOT_YET_READ;
    private String rejection = "";

    private Reading reading = new Reading.Bad(Doubt.NOT_YET_READ, 0);
    private boolean hasValue;
    private long valueAtNanos;

    private boolean hasGood;
    private double goodCelsius;
    private long goodAtNanos;

    private int jumpSamples;
    private double jumpCelsius;
    private long jumpAtNanos;

    public SampleCheck(ProbePlan plan) {
        this.plan = plan;
        this.staleAfterNanos = (long) (plan.staleAfterSeconds() * NANOS_PER_SECOND);
    }

    /**
     * The reading that the newest sample and those before it amount to. The same object comes back
     * as long as nothing changed.
     *
     * @param sample the probe's newest sample, the same one as often as need be
     * @param nowNanos monotonic time of the tick, never before an earlier call's
     */
    public Reading check(Sample sample, long nowNanos) {
        if (sample != newest) {
            boolean isFirst = newest == NOTHING_SEEN;
            // A driver's thread may be some milliseconds ahead of the tick's time; and a time from
            // the future must not keep a reading young.
            long atNanos = Math.min(sample.atNanos() - nowNanos, 0) + nowNanos;
            newest = sample;
            if (isFirst || atNanos - newestAtNanos >= 0) {
                take(sample, atNanos);
            }
        }
        if (nowNanos - (hasValue ? valueAtNanos : newestAtNanos) > staleAfterNanos) {
            expire(nowNanos);
        }
        return reading;
    }

    /**
     * What was found when a sample was last rejected, for a person; empty when none ever was. Says
     * where the driver looked.
     */
    public String rejection() {
        return rejection;
    }

    private void take(Sample sample, long atNanos) {
        newestAtNanos = atNanos;
        isNewestRejected = false;
        if (sample instanceof Sample.Measured measured) {
            takeMeasured(measured, atNanos);
        } else if (sample instanceof Sample.Failed failed) {
            reject(failed.why(), failed.detail(), atNanos);
        } else {
            reject(Doubt.NOT_YET_READ, "no sample yet", atNanos);
        }
    }

    private void takeMeasured(Sample.Measured measured, long atNanos) {
        double value = measured.value();
        if (!Double.isFinite(value)) {
            reject(Doubt.GARBLED, "the driver gave " + value, atNanos);
        } else if (plan.sensor().isThermometer() != (measured.unit() == Sample.Unit.CELSIUS)) {
            reject(
                    Doubt.GARBLED,
                    "the driver gave a value in " + measured.unit() + " for a " + plan.sensor(),
                    atNanos);
        } else if (plan.sensor().isThermometer()) {
            takeCelsius(value, atNanos);
        } else {
            takePercent(value, atNanos);
        }
    }

    private void takePercent(double percent, long atNanos) {
        if (percent < -HUMIDITY_EXCESS_PERCENT || percent > 100 + HUMIDITY_EXCESS_PERCENT) {
            reject(Doubt.OUT_OF_RANGE, percent + " % relative humidity", atNanos);
            return;
        }
        accept(new RelativeHumidity(Math.max(0, Math.min(100, percent))), atNanos);
    }

    private void takeCelsius(double rawCelsius, long atNanos) {
        if (plan.sensor() == ProbePlan.Sensor.DS18B20 && rawCelsius == POWER_ON_CELSIUS) {
            reject(Doubt.POWER_ON_VALUE, "exactly 85 °C", atNanos);
            return;
        }
        if (rawCelsius < MIN_CELSIUS || rawCelsius > MAX_CELSIUS) {
            reject(Doubt.OUT_OF_RANGE, rawCelsius + " °C", atNanos);
            return;
        }
        double celsius = rawCelsius + plan.offsetKelvin();
        if (hasGood && !isWithinReach(celsius, goodCelsius, atNanos - goodAtNanos)) {
            takeJump(celsius, atNanos);
            return;
        }
        acceptCelsius(celsius, atNanos);
    }

    private void takeJump(double celsius, long atNanos) {
        boolean agrees =
                jumpSamples > 0
                        && atNanos - jumpAtNanos > 0
                        && isWithinReach(celsius, jumpCelsius, atNanos - jumpAtNanos);
        jumpSamples = agrees ? jumpSamples + 1 : 1;
        jumpCelsius = celsius;
        jumpAtNanos = atNanos;
        if (jumpSamples >= CONFIRMING_SAMPLES) {
            acceptCelsius(celsius, atNanos);
            return;
        }
        reading = new Reading.Uncertain(new Temperature(celsius), Doubt.TOO_FAST, atNanos);
        hasValue = true;
        valueAtNanos = atNanos;
    }

    private static boolean isWithinReach(double celsius, double fromCelsius, long elapsedNanos) {
        double reachKelvin =
                JUMP_ALLOWANCE_KELVIN + MAX_KELVIN_PER_SECOND * (elapsedNanos / NANOS_PER_SECOND);
        return Math.abs(celsius - fromCelsius)
                <= Math.min(reachKelvin, MAX_UNCONFIRMED_STEP_KELVIN);
    }

    private void acceptCelsius(double celsius, long atNanos) {
        hasGood = true;
        goodCelsius = celsius;
        goodAtNanos = atNanos;
        jumpSamples = 0;
        accept(new Temperature(celsius), atNanos);
    }

    private void accept(Quantity value, long atNanos) {
        reading = new Reading.Good(value, atNanos);
        hasValue = true;
        valueAtNanos = atNanos;
    }

    private void reject(Doubt why, String detail, long atNanos) {
        isNewestRejected = true;
        newestDoubt = why;
        rejection = detail;
        if (!hasValue) {
            reading = new Reading.Bad(why, atNanos);
        }
    }

    /** The standing value is too old, or the newest rejection is. */
    private void expire(long nowNanos) {
        boolean isReasonFresh =
                isNewestRejected
                        && (nowNanos - newestAtNanos <= staleAfterNanos
                                || newestDoubt == Doubt.NOT_YET_READ);
        Doubt why = isReasonFresh ? newestDoubt : Doubt.STALE;
        boolean isAlreadySaid =
                reading instanceof Reading.Bad bad && bad.doubt() == why && !hasValue;
        if (!isAlreadySaid && newest != NOTHING_SEEN) {
            reading = new Reading.Bad(why, hasValue ? valueAtNanos : newestAtNanos);
        }
        hasValue = false;
    }
}
