package io.evenwarm.monitor.intake;

import io.evenwarm.link.AgentProof;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.Message;
import java.util.Optional;

/**
 * The proof that an agent's hello must bring in one session, on a line that proves no key by
 * itself. Used by the agent's worker only.
 */
final class ExpectedProof {

    private final KeyPin key;
    private final String nonce = AgentProof.nonce();
    private Optional<String> trouble = Optional.empty();

    /**
     * @param key the agent's, as the settings have it
     */
    ExpectedProof(KeyPin key) {
        this.key = key;
    }

    /** What the monitor's hello asks with; hexadecimal. */
    String nonce() {
        return nonce;
    }

    /** Why the hellos that came so far were not enough, for a person; empty while none came. */
    Optional<String> trouble() {
        return trouble;
    }

    /**
     * Whether a hello proves the key.
     *
     * @throws LinkException when another agent is there: one that has another key
     */
    boolean isIn(Message.Hello hello) throws LinkException {
        if (hello.proof().isEmpty()) {
            trouble =
                    Optional.of(
                            "it did not prove its key: update the agent, or look what else is at"
                                    + " the line");
            return false;
        }
        Message.KeyProof proof = hello.proof().get();
        Optional<KeyPin> shown = AgentProof.claimed(proof);
        if (!shown.equals(Optional.of(key))) {
            throw new LinkException(
                    "refused: its key is "
                            + shown.map(KeyPin::toString).orElse("none that this monitor knows")
                            + ", the settings say "
                            + key
                            + ". Another agent is at the line, or its key was made anew. If you"
                            + " know why, pair again and put the new key into the settings");
        }
        if (!AgentProof.holds(proof, nonce)) {
            trouble =
                    Optional.of(
                            "refused: its signature is not for this session. Somebody at the line"
                                    + " may show what was recorded before");
            return false;
        }
        return true;
    }
}
