import type { ReactNode } from 'react';
import { Dialog as AriaDialog, Heading } from 'react-aria-components/Dialog';
import { Modal, ModalOverlay } from 'react-aria-components/Modal';
import { t } from '../words/index.ts';
import { IconButton } from './button.tsx';

export interface DialogProps {
  open: boolean;
  onClose: () => void;
  title: string;
  children: ReactNode;
  /** Buttons at the foot, the main one last. */
  actions?: ReactNode;
  /** Room for a table. */
  wide?: boolean;
}

/** A window over the page; on a phone it rises from the bottom edge. Escape and a press outside close it. */
export function Dialog({ open, onClose, title, children, actions, wide = false }: DialogProps) {
  return (
    <ModalOverlay
      className="veil"
      isOpen={open}
      isDismissable
      onOpenChange={(now) => {
        if (!now) onClose();
      }}
    >
      <Modal className={wide ? 'window window-wide' : 'window'}>
        <AriaDialog className="dialog">
          <header className="dialog-head">
            <Heading slot="title" level={2} className="dialog-title">
              {title}
            </Heading>
            <IconButton icon="close" label={t('common.close')} onPress={onClose} />
          </header>
          <div className="dialog-body">{children}</div>
          {actions && <footer className="dialog-foot">{actions}</footer>}
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}
