package io.evenwarm.agent.serve;

import io.evenwarm.link.KeyPin;
import io.evenwarm.link.Link;
import java.util.function.Function;

/** Who is at the other end of a link, as far as the link itself tells. */
sealed interface Peer {

    /** Handles every case. */
    <R> R fold(Function<Trusted, R> trusted, Function<Keyed, R> keyed, Function<Line, R> line);

    /** Who came through a listener: by its key where it proved one, else by the file's rights. */
    static Peer at(Link link) {
        return link.peerKey().<Peer>map(Keyed::new).orElse(new Trusted());
    }

    /** At the machine itself: the rights of the local socket let nobody else in. */
    record Trusted() implements Peer {
        @Override
        public <R> R fold(
                Function<Trusted, R> trusted, Function<Keyed, R> keyed, Function<Line, R> line) {
            return trusted.apply(this);
        }
    }

    /** Somebody who has proved to hold a key, which may be unknown while pairing is open. */
    record Keyed(KeyPin key) implements Peer {
        @Override
        public <R> R fold(
                Function<Trusted, R> trusted, Function<Keyed, R> keyed, Function<Line, R> line) {
            return keyed.apply(this);
        }
    }

    /** Whoever holds a line's other end. */
    record Line() implements Peer {
        @Override
        public <R> R fold(
                Function<Trusted, R> trusted, Function<Keyed, R> keyed, Function<Line, R> line) {
            return line.apply(this);
        }
    }
}
