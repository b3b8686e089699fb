package io.evenwarm.codec;

import java.util.Optional;
import java.util.function.Function;

/**
 * What came out of decoding: something understood, or a reason. Bad input from a line is ordinary,
 * so it is a value and not an exception.
 */
public sealed interface Decoded<T> {

    /** Handles every case. */
    <R> R fold(
            Function<? super T, ? extends R> understood,
            Function<? super String, ? extends R> notUnderstood);

    /** The value, when it was understood. */
    default Optional<T> value() {
        return fold(Optional::of, reason -> Optional.empty());
    }

    /** The octets meant this. */
    record Understood<T>(T content) implements Decoded<T> {
        @Override
        public <R> R fold(
                Function<? super T, ? extends R> understood,
                Function<? super String, ? extends R> notUnderstood) {
            return understood.apply(content);
        }
    }

    /**
     * The octets meant nothing to us.
     *
     * @param reason what was wrong and where, in one short line without control characters
     */
    record NotUnderstood<T>(String reason) implements Decoded<T> {
        @Override
        public <R> R fold(
                Function<? super T, ? extends R> understood,
                Function<? super String, ? extends R> notUnderstood) {
            return notUnderstood.apply(reason);
        }
    }
}
