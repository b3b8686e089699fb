package io.evenwarm.message;

import io.evenwarm.quantity.Quantity;
import java.util.Optional;
import java.util.function.Function;

/**
 * A checked sample. Control and guard act on readings only; a {@link Bad} one has no value, so that
 * a wrong number can't be used by mistake.
 */
public sealed interface Reading {

    /** Monotonic time of the sample behind this reading, in the agent's boot. */
    long sampledAtNanos();

    /** Handles every case. */
    <R> R fold(Function<Good, R> good, Function<Uncertain, R> uncertain, Function<Bad, R> bad);

    /** The value, unless the reading is bad. */
    Optional<Quantity> quantity();

    /** A value that passed every check. */
    record Good(Quantity value, long sampledAtNanos) implements Reading {
        @Override
        public <R> R fold(
                Function<Good, R> good, Function<Uncertain, R> uncertain, Function<Bad, R> bad) {
            return good.apply(this);
        }

        @Override
        public Optional<Quantity> quantity() {
            return Optional.of(value);
        }
    }

    /** A value that may be shown but must not steer anything. */
    record Uncertain(Quantity value, Doubt doubt, long sampledAtNanos) implements Reading {
        @Override
        public <R> R fold(
                Function<Good, R> good, Function<Uncertain, R> uncertain, Function<Bad, R> bad) {
            return uncertain.apply(this);
        }

        @Override
        public Optional<Quantity> quantity() {
            return Optional.of(value);
        }
    }

    /** No usable value. */
    record Bad(Doubt doubt, long sampledAtNanos) implements Reading {
        @Override
        public <R> R fold(
                Function<Good, R> good, Function<Uncertain, R> uncertain, Function<Bad, R> bad) {
            return bad.apply(this);
        }

        @Override
        public Optional<Quantity> quantity() {
            return Optional.empty();
        }
    }

    /** Why a reading is not good. */
    enum Doubt {
        /** No sample has come since the agent started. */
        NOT_YET_READ("not read yet"),
        /** The newest sample is too old. */
        STALE("too old"),
        /** The sensor's file, device or bus is not there. */
        NOT_THERE("not there"),
        /** The sensor answered with something that is not a measurement. */
        GARBLED("garbled"),
        /** The sensor's own checksum does not match. */
        CHECKSUM("wrong checksum"),
        /** 85 °C exactly: what a DS18B20 says before its first conversion. */
        POWER_ON_VALUE("power-on value"),
        /** Outside what the sensor or a cabinet can show. */
        OUT_OF_RANGE("out of range"),
        /** Faster than air or a probe can change. */
        TOO_FAST("changed too fast"),
        /** The driver failed in another way. */
        DRIVER("driver error");

        private final String words;

        Doubt(String words) {
            this.words = words;
        }

        /** In plain words, to stand behind a probe's name. */
        public String words() {
            return words;
        }
    }
}
