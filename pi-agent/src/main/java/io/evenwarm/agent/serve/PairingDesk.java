package io.evenwarm.agent.serve;

import io.evenwarm.agent.port.PairedMonitors;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.link.AgentProof;
import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.PairingCode;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Message;
import io.evenwarm.message.Role;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.util.Locale;
import java.util.Optional;

/**
 * Who may come in, and how somebody new is let in: while a command at this machine asks for it, for
 * {@value #OPEN_SECONDS} s and {@value #TRIES} tries, one at a time.
 *
 * <p>A person at each end compares the digits that both show (see {@link PairingCode}) and says
 * yes; only after both did is the monitor's key remembered.
 *
 * <p>Threads: any. The methods never wait for a peer; the last yes waits for the disk.
 */
public final class PairingDesk {

    /** For how long monitors may ask. */
    public static final int OPEN_SECONDS = 300;

    /** How many monitors may ask meanwhile; each has one chance in a million to deceive. */
    public static final int TRIES = 5;

    private static final System.Logger LOG = System.getLogger(PairingDesk.class.getName());
    private static final long NANOS_PER_SECOND = 1_000_000_000L;

    private final AgentName name;
    private final PairedMonitors monitors;
    private final IdentitySource identity;
    private final MonotonicClock clock;

    private final Object lock = new Object();

    /** Guarded by {@link #lock}. */
    private Optional<Window> window = Optional.empty();

    /**
     * @param name told to a monitor once it is paired, and not before
     * @param identity asked when pairing is opened
     */
    public PairingDesk(
            AgentName name,
            PairedMonitors monitors,
            IdentitySource identity,
            MonotonicClock clock) {
        this.name = name;
        this.monitors = monitors;
        this.identity = identity;
        this.clock = clock;
    }

    /** One that knows nobody and lets nobody in. */
    static PairingDesk shut(AgentName name, MonotonicClock clock) {
        PairedMonitors nobody =
                new PairedMonitors() {
                    @Override
                    public Optional<Role> roleOf(KeyPin key) {
                        return Optional.empty();
                    }

                    @Override
                    public void add(Paired monitor) throws IOException {
                        throw new IOException("no monitor is remembered here");
                    }
                };
        return new PairingDesk(
                name,
                nobody,
                () -> {
                    throw new IOException("it has none");
                },
                clock);
    }

    /** Finds this agent's own identity. */
    @FunctionalInterface
    public interface IdentitySource {
        Identity get() throws IOException;
    }

    /** What the holder of a key may do; empty when it is not paired. */
    public Optional<Role> roleOf(KeyPin key) {
        return monitors.roleOf(key);
    }

    /**
     * Proves this agent's key on a line.
     *
     * @param nonce from the monitor's hello; hexadecimal
     * @return empty when the key can't be read or made
     */
    Optional<Message.KeyProof> proof(String nonce) {
        try {
            return Optional.of(AgentProof.prove(identity.get(), nonce));
        } catch (IOException e) {
            LOG.log(Level.WARNING, "no proof of this agent''s key on a line: {0}", e.getMessage());
            return Optional.empty();
        }
    }

    /** Whether the holder of a key is let in: a paired one always, any while pairing is open. */
    public boolean admits(KeyPin key) {
        return roleOf(key).isPresent() || isOpen();
    }

    /** Whether a monitor that is not known may ask now. */
    public boolean isOpen() {
        synchronized (lock) {
            expire();
            return window.isPresent();
        }
    }

    /**
     * Lets monitors ask until the window is closed.
     *
     * @param changed called, from any thread, when {@link Window#news} may have some
     * @return a window that may be closed already, for a reason that its news give
     */
    Window open(Role role, Runnable changed) {
        synchronized (lock) {
            expire();
            Window opened = new Window(role, changed, clock.nanos());
            if (window.isPresent()) {
                opened.end("pairing is open already: end the other command first");
                return opened;
            }
            try {
                opened.own = Optional.of(identity.get());
                window = Optional.of(opened);
                opened.say("waiting for a monitor to ask");
                LOG.log(Level.INFO, "pairing is open, for monitors that may {0}", word(role));
            } catch (IOException e) {
                opened.end("this agent's own key can't be read or made: " + e.getMessage());
            }
            return opened;
        }
    }

    /**
     * A monitor asks.
     *
     * @param key which it proved, or showed on a line
     * @param monitor what it calls itself
     * @param changed called, from any thread, when {@link Attempt#result} may have one
     */
    Attempt begin(KeyPin key, String monitor, Runnable changed) {
        synchronized (lock) {
            expire();
            if (window.isEmpty()) {
                return Attempt.refused("pairing is not open at the agent: run evenwarm-agent pair");
            }
            Window open = window.get();
            if (open.attempt.isPresent()) {
                return Attempt.refused("another monitor is being paired: try again after it");
            }
            if (open.own.isEmpty() || open.own.get().pin().equals(key)) {
                return Attempt.refused("a monitor needs a key of its own");
            }
            open.triesLeft--;
            Attempt attempt = new Attempt(Optional.of(open), key, monitor, changed);
            open.attempt = Optional.of(attempt);
            open.say("a monitor asks");
            return attempt;
        }
    }

    /** Call with the lock held. */
    private void expire() {
        window.ifPresent(
                open -> {
                    if (clock.nanos() - open.openedNanos > OPEN_SECONDS * NANOS_PER_SECOND) {
                        open.end("nobody was paired in " + OPEN_SECONDS / 60 + " minutes");
                    }
                });
    }

    private static String word(Role role) {
        return role.name().toLowerCase(Locale.ROOT);
    }

    /** Pairing as the command at this machine sees it; it must be closed. */
    final class Window implements AutoCloseable {
        private final Role role;
        private final Runnable changed;
        private final long openedNanos;

        /** Guarded by the desk's lock, as is what follows. */
        private Optional<Identity> own = Optional.empty();

        private Optional<Attempt> attempt = Optional.empty();
        private int triesLeft = TRIES;
        private boolean isEnded;
        private boolean isPaired;
        private boolean hasNews;
        private String words = "";

        private Window(Role role, Runnable changed, long openedNanos) {
            this.role = role;
            this.changed = changed;
            this.openedNanos = openedNanos;
        }

        /** How it goes, once after each change. */
        Optional<Message.PairState> news() {
            synchronized (lock) {
                expire();
                if (!hasNews) {
                    return Optional.empty();
                }
                hasNews = false;
                Optional<Attempt> shown = attempt.filter(each -> each.code.isPresent());
                long left = OPEN_SECONDS - (clock.nanos() - openedNanos) / NANOS_PER_SECOND;
                return Optional.of(
                        new Message.PairState(
                                !isEnded,
                                isPaired,
                                isEnded ? 0 : (int) Math.max(0, left),
                                triesLeft,
                                words,
                                shown.flatMap(each -> each.code),
                                shown.map(each -> each.monitor),
                                shown.map(each -> each.key.toString())));
            }
        }

        /** The person at this machine says whether the digits are the same. */
        void said(boolean accepted) {
            synchronized (lock) {
                attempt.filter(each -> each.code.isPresent())
                        .ifPresent(
                                each -> {
                                    each.hereSaid = Optional.of(accepted);
                                    settle(each);
                                });
            }
        }

        /** Call with the lock held. */
        private void settle(Attempt asked) {
            if (asked.hereSaid.equals(Optional.of(false))) {
                fail(asked, "the person at the agent said that the digits differ, or no");
            } else if (asked.thereSaid.equals(Optional.of(false))) {
                fail(asked, "the person at the monitor said that the digits differ, or no");
            } else if (asked.hereSaid.isPresent() && asked.thereSaid.isPresent()) {
                remember(asked);
            } else {
                say(
                        asked.hereSaid.isPresent()
                                ? "waiting for the person at the monitor"
                                : "the person at the monitor said yes");
            }
        }

        private void remember(Attempt asked) {
            try {
                monitors.add(new PairedMonitors.Paired(asked.key, role, asked.monitor));
            } catch (IOException e) {
                fail(asked, "the agent can't remember it: " + e.getMessage());
                return;
            }
            String done = asked.monitor + " is paired and may " + word(role);
            LOG.log(Level.INFO, "{0}, key {1}", done, asked.key);
            attempt = Optional.empty();
            isPaired = true;
            asked.end(
                    new Message.PairResult(
                            new CommandOutcome.Done(done),
                            Optional.of(role),
                            Optional.of(name.value())));
            end(done);
        }

        private void fail(Attempt asked, String why) {
            LOG.log(
                    Level.WARNING,
                    "{0}, key {1}, is not paired: {2}",
                    asked.monitor,
                    asked.key,
                    why);
            attempt = Optional.empty();
            asked.end(Attempt.refusal("not paired: " + why));
            if (triesLeft == 0) {
                end("not paired: " + why + ". That was the last of " + TRIES + " tries");
            } else {
                say("not paired: " + why);
            }
        }

        private void say(String news) {
            words = news;
            hasNews = true;
            changed.run();
        }

        private void end(String news) {
            if (!isEnded) {
                isEnded = true;
                window = window.filter(open -> open != this);
                attempt.ifPresent(
                        asked -> asked.end(Attempt.refusal("not paired: pairing has ended")));
                attempt = Optional.empty();
                LOG.log(Level.INFO, "pairing is closed: {0}", news);
                say(news);
            }
        }

        /** The command has ended: nobody may ask any more. */
        @Override
        public void close() {
            synchronized (lock) {
                end("the command at the agent has ended");
            }
        }

        private Object lock() {
            return lock;
        }
    }

    /** Pairing as one monitor's session sees it; it must be closed. */
    static final class Attempt implements AutoCloseable {
        private static final Object ALONE = new Object();

        private final Optional<Window> window;
        private final KeyPin key;
        private final String monitor;
        private final Runnable changed;
        private final String nonce = PairingCode.nonce();

        /** Guarded by the desk's lock, as is what follows. */
        private Optional<String> code = Optional.empty();

        private Optional<Boolean> hereSaid = Optional.empty();
        private Optional<Boolean> thereSaid = Optional.empty();
        private Optional<Message.PairResult> result = Optional.empty();

        private Attempt(Optional<Window> window, KeyPin key, String monitor, Runnable changed) {
            this.window = window;
            this.key = key;
            this.monitor = monitor;
            this.changed = changed;
        }

        private static Attempt refused(String why) {
            Attempt attempt =
                    new Attempt(Optional.empty(), new KeyPin("0".repeat(64)), "", () -> {});
            attempt.result = Optional.of(refusal("not paired: " + why));
            return attempt;
        }

        private static Message.PairResult refusal(String words) {
            return new Message.PairResult(
                    new CommandOutcome.Refused(words), Optional.empty(), Optional.empty());
        }

        private Object lock() {
            return window.map(Window::lock).orElse(ALONE);
        }

        /** Binds the agent to its nonce; empty when it is over already. */
        Optional<Message> commit() {
            synchronized (lock()) {
                return window.flatMap(open -> open.own)
                        .filter(own -> result.isEmpty())
                        .map(
                                own ->
                                        new Message.PairCommit(
                                                own.publicKey(),
                                                PairingCode.commitment(own.pin(), key, nonce)));
            }
        }

        /** The monitor's nonce has come, and with it the digits. Only the first one counts. */
        Optional<Message> revealed(String monitorNonce) {
            synchronized (lock()) {
                if (result.isPresent() || code.isPresent()) {
                    return Optional.empty();
                }
                window.ifPresent(
                        open ->
                                open.own.ifPresent(
                                        own -> {
                                            code =
                                                    Optional.of(
                                                            PairingCode.code(
                                                                    own.pin(),
                                                                    key,
                                                                    nonce,
                                                                    monitorNonce));
                                            open.say("compare the digits");
                                        }));
                return Optional.of(new Message.PairReveal(nonce));
            }
        }

        /** The person at the monitor says whether the digits are the same. */
        void said(boolean accepted) {
            synchronized (lock()) {
                if (result.isEmpty() && (code.isPresent() || !accepted)) {
                    thereSaid = Optional.of(accepted);
                    window.ifPresent(open -> open.settle(this));
                }
            }
        }

        /** What came of it, once that is known. */
        Optional<Message.PairResult> result() {
            synchronized (lock()) {
                return result;
            }
        }

        private void end(Message.PairResult how) {
            result = Optional.of(how);
            changed.run();
        }

        /** The monitor is gone. */
        @Override
        public void close() {
            synchronized (lock()) {
                if (result.isEmpty()) {
                    window.ifPresent(open -> open.fail(this, "the monitor has gone"));
                }
            }
        }
    }
}
