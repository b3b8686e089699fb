package io.evenwarm.message;

import java.util.List;
import java.util.Optional;

/** What passes over a link. {@code docs/protocol.md} says who sends what, and when. */
public sealed interface Message {

    /**
     * The first message of either side.
     *
     * @param versions the protocol versions that the sender speaks, best first
     * @param side which end the sender is
     * @param name what the sender is called: the agent's name, or the monitor's
     * @param program name and version of the sender's program, for people
     * @param clockRate how many of the sender's seconds pass in one second: 1, or more when it is a
     *     simulation that runs fast
     * @param nonce of a monitor that wants the agent's key proved, on a line that proves none:
     *     {@value #NONCE_OCTETS} random octets, other ones in each session; hexadecimal
     * @param proof of an agent, on such a line, to a hello with a nonce
     * @param sensors of an agent that knows what its probes are; those that are not among them may
     *     be anything
     */
    record Hello(
            List<Integer> versions,
            Side side,
            String name,
            String program,
            double clockRate,
            Optional<String> nonce,
            Optional<KeyProof> proof,
            Optional<List<ProbeSensor>> sensors)
            implements Message {

        /** Says nothing of sensors. */
        public Hello(
                List<Integer> versions,
                Side side,
                String name,
                String program,
                double clockRate,
                Optional<String> nonce,
                Optional<KeyProof> proof) {
            this(versions, side, name, program, clockRate, nonce, proof, Optional.empty());
        }

        /** Asks for no proof and gives none. */
        public Hello(
                List<Integer> versions, Side side, String name, String program, double clockRate) {
            this(versions, side, name, program, clockRate, Optional.empty(), Optional.empty());
        }

        public Hello {
            versions = List.copyOf(versions);
            sensors = sensors.map(List::copyOf);
            nonce.ifPresent(
                    digits ->
                            Hexadecimal.require(
                                    "a hello's nonce", digits, NONCE_OCTETS, NONCE_OCTETS));
            if (!(clockRate > 0 && clockRate <= 100_000)) {
                throw new IllegalArgumentException(
                        "clock rate must be above 0 and at most 100000 but was " + clockRate);
            }
        }

        /** Which end of a link. */
        public enum Side {
            AGENT,
            MONITOR,
            /** A command at the agent's own machine. */
            LOCAL
        }
    }

    /**
     * Shows that the sender holds a key.
     *
     * @param key its SubjectPublicKeyInfo in DER; hexadecimal
     * @param signature ECDSA with SHA-256, in DER, over the nonce that it answers; hexadecimal
     */
    record KeyProof(String key, String signature) {
        public KeyProof {
            Hexadecimal.require("a key", key, 1, MAX_KEY_OCTETS);
            Hexadecimal.require("a signature", signature, 1, MAX_SIGNATURE_OCTETS);
        }
    }

    /** The agent's newest snapshot of one cabinet; older unsent ones are dropped for it. */
    record Live(CabinetSnapshot snapshot) implements Message {}

    /**
     * Asks for the journal after a sequence number.
     *
     * @param afterSequence the last one that the asker has stored; 0 for all
     */
    record HistoryRequest(long afterSequence) implements Message {}

    /**
     * Journal entries in order. The next batch follows once this one is acknowledged.
     *
     * @param journal names the journal: another name means that the numbers began anew
     * @param records at most {@value #MAX_RECORDS}
     */
    record HistoryBatch(String journal, List<JournalRecord> records) implements Message {

        /** Keeps a batch well below a frame's size. */
        public static final int MAX_RECORDS = 64;

        public HistoryBatch {
            records = List.copyOf(records);
            if (records.size() > MAX_RECORDS) {
                throw new IllegalArgumentException(
                        "a batch holds at most "
                                + MAX_RECORDS
                                + " records but had "
                                + records.size());
            }
        }
    }

    /** Everything up to this sequence number is stored at the monitor. */
    record Acknowledge(long sequence) implements Message {}

    /**
     * A command.
     *
     * @param id chosen by the sender; its outcome carries the same
     */
    record CommandRequest(long id, Command command) implements Message {}

    /** What became of the command with that id. */
    record CommandAnswer(long id, CommandOutcome outcome) implements Message {}

    /**
     * Asks for every cabinet's newest snapshot, once; answered by a {@link Live} each and a {@link
     * StatusEnd}.
     */
    record StatusRequest() implements Message {}

    /**
     * Ends the answer to a {@link StatusRequest}.
     *
     * @param troubles each place where monitors should connect and can't, with the reason; empty
     *     when there is none
     * @param previousRun how the agent's run before this one ended
     * @param clock whether the agent's wall clock is right and who said so, for a person
     */
    record StatusEnd(
            Optional<List<String>> troubles,
            Optional<PreviousRun> previousRun,
            Optional<String> clock)
            implements Message {

        public StatusEnd {
            troubles = troubles.map(List::copyOf);
        }
    }

    /**
     * Tells the other side the sender's time.
     *
     * @param moment the sender's; its boot and monotonic time are those of the sender's own run
     * @param answersMonotonicNanos of a monitor: the monotonic time in the agent's message that
     *     this answers, which tells the agent how long the answer was on its way
     */
    record Time(Moment moment, Optional<Long> answersMonotonicNanos) implements Message {

        /** Of an agent's own accord. */
        public Time(Moment moment) {
            this(moment, Optional.empty());
        }
    }

    /** Nothing to say, but alive. */
    record KeepAlive() implements Message {}

    /** The sender is about to close the link. */
    record Goodbye(String reason) implements Message {}

    /**
     * What the commands of this session must be signed with, from an agent on a line that proves
     * nobody's key by itself.
     *
     * @param nonce {@value #NONCE_OCTETS} random octets, other ones after each hello; hexadecimal
     */
    record Challenge(String nonce) implements Message {
        public Challenge {
            Hexadecimal.require("a challenge's nonce", nonce, NONCE_OCTETS, NONCE_OCTETS);
        }
    }

    /**
     * A command on such a line.
     *
     * @param counter larger than that of each one before, after the same challenge
     * @param key the sender's SubjectPublicKeyInfo in DER; hexadecimal
     * @param request the octets of the {@link CommandRequest}; hexadecimal
     * @param signature ECDSA with SHA-256, in DER, over challenge, counter and request; hexadecimal
     */
    record SignedCommand(long counter, String key, String request, String signature)
            implements Message {
        public SignedCommand {
            Hexadecimal.require("a key", key, 1, MAX_KEY_OCTETS);
            Hexadecimal.require("a signed request", request, 1, MAX_REQUEST_OCTETS);
            Hexadecimal.require("a signature", signature, 1, MAX_SIGNATURE_OCTETS);
        }

        /** Room for any command there is, and little more. */
        public static final int MAX_REQUEST_OCTETS = 4096;
    }

    /**
     * A monitor wants to be paired.
     *
     * @param name what it calls itself, for the person at the agent
     * @param key its SubjectPublicKeyInfo in DER; hexadecimal
     */
    record PairRequest(String name, String key) implements Message {
        public PairRequest {
            Names.require("monitor name", name);
            Hexadecimal.require("a key", key, 1, MAX_KEY_OCTETS);
        }
    }

    /**
     * The agent binds itself to its nonce before it has seen the monitor's.
     *
     * @param key its SubjectPublicKeyInfo in DER; hexadecimal
     * @param commitment SHA-256 over both keys' pins and the nonce; hexadecimal
     */
    record PairCommit(String key, String commitment) implements Message {
        public PairCommit {
            Hexadecimal.require("a key", key, 1, MAX_KEY_OCTETS);
            Hexadecimal.require("a commitment", commitment, NONCE_OCTETS, NONCE_OCTETS);
        }
    }

    /** The monitor's nonce: {@value #NONCE_OCTETS} random octets; hexadecimal. */
    record PairNonce(String nonce) implements Message {
        public PairNonce {
            Hexadecimal.require("a nonce", nonce, NONCE_OCTETS, NONCE_OCTETS);
        }
    }

    /** The agent's nonce, to which it had bound itself; hexadecimal. */
    record PairReveal(String nonce) implements Message {
        public PairReveal {
            Hexadecimal.require("a nonce", nonce, NONCE_OCTETS, NONCE_OCTETS);
        }
    }

    /** What the person at the sender's end says to the code: the same at both ends, or not. */
    record PairConfirm(boolean accepted) implements Message {}

    /**
     * What came of a pairing.
     *
     * @param outcome in words for a person
     * @param role what the monitor may do from now on; empty when it was refused
     * @param name the agent's name; empty when it was refused
     */
    record PairResult(CommandOutcome outcome, Optional<Role> role, Optional<String> name)
            implements Message {}

    /**
     * A command at the agent's own machine asks it to let monitors pair until that command ends.
     *
     * @param role what a monitor that is paired now may do
     */
    record PairOpen(Role role) implements Message {}

    /**
     * How pairing goes, for the command that asked for it; sent when it changes.
     *
     * @param open whether a monitor may still ask
     * @param paired whether one was paired; then it is not open any more
     * @param secondsLeft until no more
     * @param triesLeft how many more monitors may ask
     * @param words what happened, for a person
     * @param code six digits to compare with those that the monitor shows; there while the agent
     *     waits for a person's word
     * @param monitor what the monitor calls itself; with a code
     * @param key the monitor's pin; with a code
     */
    record PairState(
            boolean open,
            boolean paired,
            int secondsLeft,
            int triesLeft,
            String words,
            Optional<String> code,
            Optional<String> monitor,
            Optional<String> key)
            implements Message {}

    /** Octets of a nonce, a challenge and a commitment: 256 bits. */
    int NONCE_OCTETS = 32;

    /** Octets of a SubjectPublicKeyInfo; one of an EC P-256 key has 91. */
    int MAX_KEY_OCTETS = 512;

    /** Octets of a signature in DER; one by an EC P-256 key has at most 72. */
    int MAX_SIGNATURE_OCTETS = 256;
}
